// page: the whole tool as one file that a browser opens, also without a network.
#include <filesystem>
#include <fstream>
#include <iterator>

#include "app/commands.hpp"
#include "base/error.hpp"
#include "files/output_place.hpp"
#include "page/page_html.hpp"

namespace boxroom {
namespace {

/// The page's engine: beside the program where it was built, in the package's own folder
/// where it was installed.
std::string packed_engine() {
    std::error_code none;
    const auto program = std::filesystem::read_symlink("/proc/self/exe", none).parent_path();
    for (const char* folder : {".", BOXROOM_PARTS}) {
        std::ifstream file(program / folder / "boxroom_engine.wasm.gz", std::ios::binary);
        std::string bytes{std::istreambuf_iterator<char>(file), {}};
        if (file && !bytes.empty()) return bytes;
    }
    throw Error("page", "the page's engine is not beside this program",
                "install emscripten and node-acorn, then build all of it again");
}

}  // namespace

Answer run_page(const Request& request) {
    const std::string path = request.out.empty() ? "boxroom.html" : request.out;
    const std::string page = page_html(packed_engine(), BOXROOM_VERSION);
    write_output(path, page, {});
    return {"Wrote " + path + ". Open it in a browser, with or without a network.\n",
            {{"file", path},
             {"bytes", page.size()},
             {"timing_s", nlohmann::ordered_json::object()},
             {"warnings", nlohmann::ordered_json::array()}}};
}

}  // namespace boxroom
