#pragma once
#include <string_view>

namespace boxroom {

/// Every byte to a descriptor that is open: 0, or the number (errno) of what went wrong. A call
/// that a signal ended is made again.
int write_all(int descriptor, std::string_view bytes);

}  // namespace boxroom
