#pragma once
#include <string>
#include <string_view>

namespace boxroom {

/// What a number in a room file or on the command line measures; decides which units it may carry.
enum class Quantity {
    plain,                ///< no unit
    length,               ///< m cm mm ft in, also "13 ft 5 in"
    area,                 ///< m2 cm2 in2 ft2
    volume,               ///< m3 L ft3 in3
    frequency,            ///< Hz kHz
    time,                 ///< s ms
    level,                ///< dB
    slope,                ///< dB/oct
    speed,                ///< m/s ft/s
    density,              ///< kg/m3
    mass,                 ///< kg g
    force_factor,         ///< T m  (also N/A)
    compliance,           ///< m/N mm/N
    resistance,           ///< ohm
    inductance,           ///< H mH
    power,                ///< W kW
    voltage,              ///< V
    specific_resistance,  ///< Pa s/m (rayl)
    surface_mass,         ///< kg/m2
    specific_stiffness    ///< Pa/m
};

/// Reads "4.10 m", "13 ft 5 in", "38 L" or a bare number (then SI) and returns the SI value.
/// Accepts a comma-free decimal, unit spelling as listed at Quantity (litres also "l", inch also
/// '"', foot also "'"). Exact definitions: 1 in = 0.0254 m, 1 ft = 0.3048 m.
/// Throws Error (where left empty) for an unknown or wrong unit, trailing text, NaN or infinity.
double parse_quantity(std::string_view text, Quantity quantity);

/// How a quantity is written: the "m" of "4.10 m". A bare number has no unit and is SI.
struct WrittenUnit {
    std::string name;     ///< as it is spelt
    double factor = 1;    ///< of one of it to SI
    bool inches = false;  ///< feet, with the inches that are left over: "13 ft 5 in"
};

/// The unit in `text`. Throws Error where parse_quantity() does.
WrittenUnit written_unit(std::string_view text, Quantity quantity);
/// The SI value in that unit, without trailing zeros: lengths to 0.01 mm, volumes to 1 mL, times to
/// 1 us, levels and frequencies to 0.01; all else to six digits.
std::string format_quantity(double value, Quantity quantity, const WrittenUnit& unit);
/// How many decimals that is (those of the inches, where feet come with inches).
int written_decimals(double value, Quantity quantity, const WrittenUnit& unit);

/// "a length", "a volume", with an example: for messages.
std::string describe(Quantity quantity);

enum class Units { metric, imperial };

/// 4.1 -> "4.10 m" or "13 ft 5 in" (nearest 1/2 in); volumes "24 L" or "0.85 ft3". Only length and
/// volume differ between the systems.
std::string format_length(double metres, Units units);
std::string format_volume(double cubic_metres, Units units);
/// "(0.35, 0.40) m from the left and front walls" style is left to callers; this is one number with
/// the decimals that carry meaning: 1 under 100, else 0.
std::string format_frequency(double hertz);

}  // namespace boxroom
