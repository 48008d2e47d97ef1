#pragma once
#include <string>
#include <vector>

#include "base/units.hpp"

namespace boxroom {

/// 0.338 -> "338 mm"; one decimal where the length is no whole millimetre (to 0.05 mm).
std::string format_millimetres(double metres);

/// To the nearest sixteenth of an inch, as a fraction in lowest terms: 0.3381375 -> "13 5/16 in".
/// 1 in = 0.0254 m exactly, so the error is at most 1/32 in = 0.79 mm.
std::string format_sixteenths(double metres);

/// Both at once, the leading one first: "338 mm (13 5/16 in)".
std::string format_both(double metres, Units lead);

/// Kilograms and pounds, the leading one first (1 lb = 0.45359237 kg exactly).
std::string format_weight(double kilograms, Units lead);

/// Litres to 0.1 and cubic feet to 0.001, the leading one first.
std::string format_litres(double cubic_metres, Units lead);

/// The parts (none negative) rounded to multiples of `step` so that they add up to their rounded
/// sum. The first, which stands elsewhere too, in the ordinary way; of the others those with the
/// largest remainders go up (Hamilton's method). No part moves by a whole step.
std::vector<double> rounded_parts(const std::vector<double>& parts, double step);

}  // namespace boxroom
