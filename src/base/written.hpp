#pragma once
#include "base/units.hpp"

namespace boxroom {

/// The SI value that is read back from what format_quantity() writes.
double read_back(double value, Quantity quantity, const WrittenUnit& unit);

/// The step in which people write a length (1 cm, or half an inch where the unit is one of feet or
/// inches) or a volume (its third digit), in SI.
double everyday_step(double value, Quantity quantity, const WrittenUnit& unit);

}  // namespace boxroom
