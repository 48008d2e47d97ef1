#include "base/unit_table.hpp"

#include <algorithm>

namespace boxroom {
namespace {

/// Each is also known in capitals or small letters, where that names the same unit.
constexpr Unit units[] = {
    {"m", Quantity::length, 1},
    {"cm", Quantity::length, 1e-2},
    {"mm", Quantity::length, 1e-3},
    {"ft", Quantity::length, foot},
    {"'", Quantity::length, foot},
    {"in", Quantity::length, inch},
    {"\"", Quantity::length, inch},
    {"metre", Quantity::length, 1},
    {"metres", Quantity::length, 1},
    {"meter", Quantity::length, 1},
    {"meters", Quantity::length, 1},
    {"centimetre", Quantity::length, 1e-2},
    {"centimetres", Quantity::length, 1e-2},
    {"centimeter", Quantity::length, 1e-2},
    {"centimeters", Quantity::length, 1e-2},
    {"millimetre", Quantity::length, 1e-3},
    {"millimetres", Quantity::length, 1e-3},
    {"millimeter", Quantity::length, 1e-3},
    {"millimeters", Quantity::length, 1e-3},
    {"foot", Quantity::length, foot},
    {"feet", Quantity::length, foot},
    {"inch", Quantity::length, inch},
    {"inches", Quantity::length, inch},
    {"ins", Quantity::length, inch},
    {"\u2032", Quantity::length, foot},
    {"\u2019", Quantity::length, foot},
    {"\u2033", Quantity::length, inch},
    {"\u201d", Quantity::length, inch},
    {"''", Quantity::length, inch},
    {"m2", Quantity::area, 1},
    {"m\u00b2", Quantity::area, 1},
    {"cm2", Quantity::area, 1e-4},
    {"cm\u00b2", Quantity::area, 1e-4},
    {"mm2", Quantity::area, 1e-6},
    {"in2", Quantity::area, inch* inch},
    {"in\u00b2", Quantity::area, inch* inch},
    {"ft2", Quantity::area, foot* foot},
    {"ft\u00b2", Quantity::area, foot* foot},
    {"sq m", Quantity::area, 1},
    {"sqm", Quantity::area, 1},
    {"sq cm", Quantity::area, 1e-4},
    {"sq in", Quantity::area, inch* inch},
    {"sq ft", Quantity::area, foot* foot},
    {"square metres", Quantity::area, 1},
    {"square meters", Quantity::area, 1},
    {"square centimetres", Quantity::area, 1e-4},
    {"square centimeters", Quantity::area, 1e-4},
    {"square inches", Quantity::area, inch* inch},
    {"square feet", Quantity::area, foot* foot},
    {"m3", Quantity::volume, 1},
    {"m\u00b3", Quantity::volume, 1},
    {"L", Quantity::volume, litre},
    {"l", Quantity::volume, litre},
    {"ml", Quantity::volume, 1e-6},
    {"dm3", Quantity::volume, litre},
    {"cm3", Quantity::volume, 1e-6},
    {"ft3", Quantity::volume, foot* foot* foot},
    {"ft\u00b3", Quantity::volume, foot* foot* foot},
    {"in3", Quantity::volume, inch* inch* inch},
    {"in\u00b3", Quantity::volume, inch* inch* inch},
    {"litre", Quantity::volume, litre},
    {"litres", Quantity::volume, litre},
    {"liter", Quantity::volume, litre},
    {"liters", Quantity::volume, litre},
    {"ltr", Quantity::volume, litre},
    {"cu ft", Quantity::volume, foot* foot* foot},
    {"cubic foot", Quantity::volume, foot* foot* foot},
    {"cubic feet", Quantity::volume, foot* foot* foot},
    {"cu in", Quantity::volume, inch* inch* inch},
    {"cubic inches", Quantity::volume, inch* inch* inch},
    {"cubic metres", Quantity::volume, 1},
    {"cubic meters", Quantity::volume, 1},
    {"Hz", Quantity::frequency, 1},
    {"kHz", Quantity::frequency, 1e3},
    {"hertz", Quantity::frequency, 1},
    {"s", Quantity::time, 1},
    {"ms", Quantity::time, 1e-3},
    {"seconds", Quantity::time, 1},
    {"milliseconds", Quantity::time, 1e-3},
    {"dB", Quantity::level, 1},
    {"decibel", Quantity::level, 1},
    {"decibels", Quantity::level, 1},
    {"dB/oct", Quantity::slope, 1},
    {"dB/octave", Quantity::slope, 1},
    {"dB per octave", Quantity::slope, 1},
    {"m/s", Quantity::speed, 1},
    {"ft/s", Quantity::speed, foot},
    {"kg/m3", Quantity::density, 1},
    {"kg/m\u00b3", Quantity::density, 1},
    {"kg", Quantity::mass, 1},
    {"g", Quantity::mass, 1e-3},
    {"lb", Quantity::mass, 0.45359237},
    {"lbs", Quantity::mass, 0.45359237},
    {"oz", Quantity::mass, 0.45359237 / 16},
    {"gram", Quantity::mass, 1e-3},
    {"grams", Quantity::mass, 1e-3},
    {"kilogram", Quantity::mass, 1},
    {"kilograms", Quantity::mass, 1},
    {"pound", Quantity::mass, 0.45359237},
    {"pounds", Quantity::mass, 0.45359237},
    {"ounces", Quantity::mass, 0.45359237 / 16},
    {"T m", Quantity::force_factor, 1},
    {"Tm", Quantity::force_factor, 1},
    {"T\u00b7m", Quantity::force_factor, 1},
    {"N/A", Quantity::force_factor, 1},
    {"tesla metres", Quantity::force_factor, 1},
    {"tesla meters", Quantity::force_factor, 1},
    {"m/N", Quantity::compliance, 1},
    {"mm/N", Quantity::compliance, 1e-3},
    {"um/N", Quantity::compliance, 1e-6},
    {"\u00b5m/N", Quantity::compliance, 1e-6},
    {"ohm", Quantity::resistance, 1},
    {"ohms", Quantity::resistance, 1},
    {"\u03a9", Quantity::resistance, 1},
    {"\u2126", Quantity::resistance, 1},
    {"H", Quantity::inductance, 1},
    {"mH", Quantity::inductance, 1e-3},
    {"henry", Quantity::inductance, 1},
    {"millihenry", Quantity::inductance, 1e-3},
    {"W", Quantity::power, 1},
    {"kW", Quantity::power, 1e3},
    {"watt", Quantity::power, 1},
    {"watts", Quantity::power, 1},
    {"kilowatts", Quantity::power, 1e3},
    {"V", Quantity::voltage, 1},
    {"volt", Quantity::voltage, 1},
    {"volts", Quantity::voltage, 1},
    {"Pa s/m", Quantity::specific_resistance, 1},
    {"rayl", Quantity::specific_resistance, 1},
    {"rayls", Quantity::specific_resistance, 1},
    {"kg/m2", Quantity::surface_mass, 1},
    {"kg/m\u00b2", Quantity::surface_mass, 1},
    {"Pa/m", Quantity::specific_stiffness, 1},
};

constexpr Wording wordings[] = {
    {Quantity::plain, "a plain number", "0.45"},
    {Quantity::length, "a length", "\"4.10 m\", \"85 cm\" or \"13 ft 5 in\""},
    {Quantity::area, "an area", "\"330 cm2\" or \"51 in2\""},
    {Quantity::volume, "a volume", "\"38 L\" or \"1.3 ft3\""},
    {Quantity::frequency, "a frequency", "\"27 Hz\""},
    {Quantity::time, "a time", "\"5 ms\""},
    {Quantity::level, "a level", "\"-3 dB\""},
    {Quantity::slope, "a slope", "\"-1 dB/oct\""},
    {Quantity::speed, "a speed", "\"343.2 m/s\""},
    {Quantity::density, "a density", "\"1.2041 kg/m3\""},
    {Quantity::mass, "a mass", "\"85 g\""},
    {Quantity::force_factor, "a force factor", "\"11 T m\""},
    {Quantity::compliance, "a compliance", "\"0.25 mm/N\""},
    {Quantity::resistance, "a resistance", "\"3.4 ohm\""},
    {Quantity::inductance, "an inductance", "\"1.2 mH\""},
    {Quantity::power, "a power", "\"300 W\""},
    {Quantity::voltage, "a voltage", "\"2.83 V\""},
    {Quantity::specific_resistance, "a specific resistance", "\"2200 Pa s/m\""},
    {Quantity::surface_mass, "a mass for each area", "\"11 kg/m2\""},
    {Quantity::specific_stiffness, "a stiffness for each area", "\"1.8e6 Pa/m\""},
};

}  // namespace

std::span<const Unit> all_units() {
    return units;
}

const Wording& wording(Quantity quantity) {
    for (const Wording& w : wordings)
        if (w.quantity == quantity) return w;
    return wordings[0];
}

bool same_word(std::string_view a, std::string_view b) {
    return std::ranges::equal(a, b, [](char x, char y) {
        const auto small = [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; };
        return small(x) == small(y);
    });
}

const Unit* unit_named(std::string_view word, Quantity quantity) {
    if (word.size() > 1 && word.ends_with('.')) word.remove_suffix(1);
    for (const Unit& unit : units)
        if (unit.quantity == quantity && word == unit.spelling) return &unit;
    for (const Unit& unit : units)
        if (unit.quantity == quantity && same_word(word, unit.spelling)) return &unit;
    return nullptr;
}

}  // namespace boxroom
