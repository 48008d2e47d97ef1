#pragma once
#include <string>
#include <string_view>

namespace boxroom {

/// What one page holds.
struct PageDocument {
    std::string title;    ///< plain text
    std::string version;  ///< of the program
    std::string_view
        engine;  ///< the commands as WebAssembly (src/engine.cmake), packed (gzip), in base64
    std::string attributes{};  ///< of <html>: markup, each with a blank before it
    std::string answer{};      ///< markup; empty for the page that is still to be asked
};

/// The whole tool as one file that opens offline and asks the network for nothing: empty, or with
/// an answer in it, which is read at once and without script.
std::string page_document(const PageDocument& page);

/// What stands for `engine` where the page itself puts it in: the page's engine does not hold
/// itself.
constexpr std::string_view engine_of_the_page = "@engine@";

}  // namespace boxroom
