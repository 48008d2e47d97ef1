#include "base/written.hpp"

#include <cmath>

namespace boxroom {

double read_back(double value, Quantity quantity, const WrittenUnit& unit) {
    return parse_quantity(format_quantity(value, quantity, unit), quantity);
}

double everyday_step(double value, Quantity quantity, const WrittenUnit& unit) {
    constexpr double inch = 0.0254;  // exact
    if (quantity == Quantity::length)
        return unit.factor == 12 * inch || unit.factor == inch ? inch / 2 : 0.01;
    const double size = std::abs(value / unit.factor);
    return size > 0 ? unit.factor * std::pow(10, std::floor(std::log10(size)) - 2) : unit.factor;
}

}  // namespace boxroom
