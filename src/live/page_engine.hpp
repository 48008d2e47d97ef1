#pragma once
#include <string_view>

namespace boxroom {

/// The live report's engine, a WebAssembly module with the functions of live_exports.hpp; empty
/// where the program was built without em++.
std::string_view page_engine();

}  // namespace boxroom
