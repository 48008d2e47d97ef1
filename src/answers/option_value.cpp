#include "answers/option_value.hpp"

#include <fmt/format.h>

#include "base/error.hpp"

namespace boxroom {

double option_value(const char* name, const std::string& text, Quantity quantity) {
    double value = 0;
    try {
        value = parse_quantity(text, quantity);
    } catch (const Error& error) {
        throw Error(name, error.faults().front().what, error.faults().front().mend);
    }
    // Most often the unit was left out: a bare number is SI, here cubic metres.
    if (quantity == Quantity::volume && !(value >= 1e-5 && value <= 10))
        throw Error(name,
                    "a volume must be between 0.01 L and 10 000 L, but \"" + text + "\" is " +
                        fmt::format("{:g} m3", value),
                    "write it with its unit, such as \"38 L\" or \"1.3 ft3\"");
    return value;
}

}  // namespace boxroom
