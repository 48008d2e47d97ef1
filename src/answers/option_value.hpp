#pragma once
#include <string>

#include "base/units.hpp"

namespace boxroom {

/// A number from the command line; a fault in it names the option.
double option_value(const char* name, const std::string& text, Quantity quantity);

}  // namespace boxroom
