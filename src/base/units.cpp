#include "base/units.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <optional>
#include <vector>

#include "base/error.hpp"
#include "base/spelling.hpp"
#include "base/unit_table.hpp"

namespace boxroom {
namespace {

std::string_view trim(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// Takes a number off the front of `text`; from_chars, because it knows no locale.
std::optional<double> take_number(std::string_view& text) {
    std::string_view rest = text;
    if (rest.size() > 1 && rest[0] == '+' && rest[1] != '-') rest.remove_prefix(1);
    double value = 0;
    const auto [end, fault] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
    if (fault == std::errc::result_out_of_range)
        value = HUGE_VAL;
    else if (fault != std::errc())
        return std::nullopt;
    text = trim(rest.substr(static_cast<std::size_t>(end - rest.data())));
    return value;
}

/// "1/2" off the front of `text`; whole numbers, the lower one not 0.
std::optional<double> take_fraction(std::string_view& text) {
    int above = 0, below = 0;
    const char *at = text.data(), *const end = at + text.size();
    const auto first = std::from_chars(at, end, above);
    if (first.ec != std::errc() || first.ptr == end || *first.ptr != '/' || above < 0)
        return std::nullopt;
    const auto second = std::from_chars(first.ptr + 1, end, below);
    if (second.ec != std::errc() || below <= 0) return std::nullopt;
    text = trim(text.substr(static_cast<std::size_t>(second.ptr - at)));
    return static_cast<double>(above) / below;
}

/// A number as people write it: "9.5", "9 1/2", "1/2".
std::optional<double> take_amount(std::string_view& text) {
    if (const auto fraction = take_fraction(text)) return fraction;
    const bool negative = text.starts_with('-');
    const auto whole = take_number(text);
    if (!whole || *whole != std::floor(*whole)) return whole;
    if (const auto fraction = take_fraction(text))
        return *whole + (negative ? -*fraction : *fraction);
    return whole;
}

/// "13 ft 5 in" or "10'4" after the feet's number is taken: their unit, inches under 12, their unit
/// or nothing.
std::optional<double> inches_after_feet(std::string_view rest) {
    const std::size_t digit = rest.find_first_of("0123456789.");
    if (digit == std::string_view::npos) return std::nullopt;
    std::string_view feet = trim(rest.substr(0, digit));
    if (feet.ends_with('-')) feet = trim(feet.substr(0, feet.size() - 1));  // 11'-9 1/2"
    const Unit* unit = unit_named(feet, Quantity::length);
    if (!unit || unit->factor != foot) return std::nullopt;
    rest.remove_prefix(digit);
    const auto inches = take_amount(rest);
    if (!inches || !(*inches < 12)) return std::nullopt;
    if (rest.empty()) return inches;
    unit = unit_named(rest, Quantity::length);
    return unit && unit->factor == inch ? inches : std::nullopt;
}

std::string in_quotes(std::string_view text) {
    return '"' + std::string(text) + '"';
}

[[noreturn]] void refuse_unit(std::string_view text, std::string_view unit, Quantity quantity) {
    const std::string mend = "write " + describe(quantity);
    if (unit.starts_with(','))
        throw Error("", in_quotes(text) + " has a comma in it",
                    "decimals are written with a point; " + mend);
    for (const Unit& u : all_units())
        if (same_word(unit, u.spelling))
            throw Error("",
                        in_quotes(text) + " is " + wording(u.quantity).name + ", but " +
                            wording(quantity).name + " is wanted",
                        mend);
    std::vector<std::string> fitting;
    for (const Unit& u : all_units())
        if (u.quantity == quantity) fitting.push_back(u.spelling);
    const std::string nearest = nearest_word(unit, fitting);
    throw Error("",
                in_quotes(text) + ": " + in_quotes(unit) + " is not a unit of " + wording(quantity).name,
                (nearest.empty() ? "" : "did you mean " + in_quotes(nearest) + "? ") + mend);
}

std::string decimals(double value, int count) {
    char text[64];
    std::snprintf(text, sizeof text, "%.*f", count, value);
    // "-0.00" says nothing that "0.00" does not.
    const std::string out = text;
    return out.find_first_of("123456789") == std::string::npos && out[0] == '-' ? out.substr(1)
                                                                                : out;
}

/// The step in which a quantity is worth writing, in SI; 0: it is a matter of digits.
double finest(Quantity quantity) {
    switch (quantity) {
        case Quantity::length:
            return 1e-5;
        case Quantity::volume:
        case Quantity::time:
            return 1e-6;
        case Quantity::level:
        case Quantity::frequency:
            return 1e-2;
        default:
            return 0;
    }
}

std::string trimmed_decimals(double value, int count) {
    std::string text = decimals(value, count);
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

}  // namespace

double parse_quantity(std::string_view text, Quantity quantity) {
    std::string_view rest = trim(text);
    if (rest.empty()) throw Error("", "the value is empty", "write " + describe(quantity));
    const bool negative = rest[0] == '-';
    const auto value = take_amount(rest);
    if (!value) throw Error("", in_quotes(text) + " is not a number", "write " + describe(quantity));
    if (!std::isfinite(*value))
        throw Error("", in_quotes(text) + " is not a finite number", "write " + describe(quantity));
    if (rest.empty()) return *value;
    if (const Unit* unit = unit_named(rest, quantity)) return *value * unit->factor;
    if (quantity == Quantity::length)
        if (const auto inches = inches_after_feet(rest))
            return *value * foot + (negative ? -*inches : *inches) * inch;
    refuse_unit(text, rest, quantity);
}

WrittenUnit written_unit(std::string_view text, Quantity quantity) {
    parse_quantity(text, quantity);
    std::string_view rest = trim(text);
    take_amount(rest);
    if (rest.empty()) return {};
    if (const Unit* unit = unit_named(rest, quantity))
        return {unit->spelling, unit->factor, quantity == Quantity::length && unit->factor == foot};
    return {"ft", foot, true};  // "13 ft 5 in"
}

int written_decimals(double value, Quantity quantity, const WrittenUnit& unit) {
    constexpr int digits = 6;
    if (const double step = finest(quantity); step > 0)
        return std::max(0, static_cast<int>(std::ceil(
                               std::log10((unit.inches ? inch : unit.factor) / step) - 1e-9)));
    const double size = std::abs(value / unit.factor);
    return size > 0 ? std::max(0, digits - 1 - static_cast<int>(std::floor(std::log10(size)))) : 0;
}

std::string format_quantity(double value, Quantity quantity, const WrittenUnit& unit) {
    const int places = written_decimals(value, quantity, unit);
    if (!unit.inches) {
        const std::string number = trimmed_decimals(value / unit.factor, places);
        return unit.name.empty() ? number : number + ' ' + unit.name;
    }
    // Rounded first, so that 11.99999 in are carried to the feet.
    const double step = std::pow(10, -places);
    const double total = std::round(std::abs(value) / inch / step) * step;
    const double feet = std::floor((total + step / 2) / 12), left = std::abs(total - 12 * feet);
    std::string text = value < 0 && total > 0 ? "-" : "";
    if (feet > 0) text += decimals(feet, 0) + " ft";
    if (feet == 0 || left > step / 2)
        text += (feet > 0 ? " " : "") + trimmed_decimals(left, places) + " in";
    return text;
}

std::string describe(Quantity quantity) {
    const Wording& w = wording(quantity);
    return std::string(w.name) + " such as " + w.example;
}

std::string format_length(double metres, Units system) {
    if (system == Units::metric) return decimals(metres, 2) + " m";
    const long halves = std::lround(std::abs(metres) / (inch / 2));
    const long feet = halves / 24, left = halves % 24;
    std::string out = metres < 0 && halves > 0 ? "-" : "";
    if (feet > 0) out += std::to_string(feet) + " ft";
    // "5.5 in", not "5 1/2 in": what is printed can be pasted into a room file.
    if (left > 0 || feet == 0) {
        if (feet > 0) out += ' ';
        out += decimals(0.5 * static_cast<double>(left), left % 2 ? 1 : 0) + " in";
    }
    return out;
}

std::string format_volume(double cubic_metres, Units system) {
    if (system == Units::imperial) return decimals(cubic_metres / (foot * foot * foot), 2) + " ft3";
    const double litres = cubic_metres / litre;
    return decimals(litres, std::abs(litres) < 9.95 ? 1 : 0) + " L";
}

std::string format_frequency(double hertz) {
    return decimals(hertz, std::abs(hertz) < 99.95 ? 1 : 0) + " Hz";
}

}  // namespace boxroom
