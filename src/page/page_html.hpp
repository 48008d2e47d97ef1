#pragma once
#include <string>
#include <string_view>

namespace boxroom {

/// The page's own script, style and body (page/web/).
std::string_view tool_script();
std::string_view tool_style();
std::string_view tool_body();

/// The whole tool as one file, which opens offline. It asks the network for nothing. `packed_engine`
/// is the commands as WebAssembly, packed (gzip).
std::string page_html(std::string_view packed_engine, const std::string& version);

}  // namespace boxroom
