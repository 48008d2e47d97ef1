#include "app/quantity_asker.hpp"

#include <cmath>

#include "base/error.hpp"

namespace boxroom {
namespace {

/// With the usual unit, where it is a bare number.
std::string with_unit(const std::string& answer, const std::string& unit) {
    const bool bare =
        !unit.empty() && answer.find_first_not_of("+-.0123456789") == std::string::npos;
    return bare ? answer + " " + unit : answer;
}

double in_range(const std::string& text, Quantity kind, double low, double high,
                const std::string& range) {
    const double value = parse_quantity(text, kind);
    if (!(value >= low && value <= high))
        throw Error("", text + " cannot be", "it must be " + range);
    return value;
}

}  // namespace

double QuantityAsker::quantity(const std::string& question, const std::string& fallback,
                               Quantity kind, const std::string& unit, double low, double high,
                               const std::string& range, std::string& kept, double usual_low,
                               double usual_high, const std::function<void(double)>& also) {
    double value = 0;
    kept = d_.ask(question, fallback, [&](const std::string& answer) {
        const std::string text = with_unit(answer, unit);
        value = in_range(text, kind, low, high, range);
        if (also) also(value);
        if ((value < usual_low || value > usual_high) && text != doubted_) {
            doubted_ = text;
            throw Error("", text + " would be unusual", "if it is meant, write it once more");
        }
        if (text != answer) d_.say("  taken as " + text + "\n");
        return text;
    });
    return value;
}

double QuantityAsker::length(const std::string& question, double fallback, double low, double high,
                             std::string& kept, double usual_high,
                             const std::function<void(double)>& also) {
    const Units units = imperial ? Units::imperial : Units::metric;
    return quantity(question, format_length(fallback, units), Quantity::length,
                    imperial ? "ft" : "m", low - 1e-9, high + 1e-9,
                    "from " + format_length(low, units) + " to " + format_length(high, units), kept,
                    0, usual_high, also);
}

void QuantityAsker::optional(const std::string& question, Quantity kind, const std::string& unit,
                             double low, double high, const std::string& range, std::string& kept) {
    d_.ask(question + " (Enter if you do not know)?", "", [&](const std::string& answer) {
        kept.clear();
        if (answer.empty()) return answer;
        kept = with_unit(answer, unit);
        in_range(kept, kind, low, high, range);
        return kept;
    });
}

int QuantityAsker::count(const std::string& question, int fallback, int low, int high) {
    int found = 0;
    d_.ask(question, std::to_string(fallback), [&](const std::string& answer) {
        const double wanted = parse_quantity(answer, Quantity::plain);
        if (!(wanted >= low && wanted <= high) || wanted != std::floor(wanted))
            throw Error(
                "", answer + " cannot be",
                "a whole number from " + std::to_string(low) + " to " + std::to_string(high));
        found = static_cast<int>(wanted);
        return answer;
    });
    return found;
}

}  // namespace boxroom
