// page: the whole tool as one file that a browser opens, also without a network.
#include "app/commands.hpp"
#include "app/page_engine.hpp"
#include "base/error.hpp"
#include "files/output_place.hpp"
#include "report/page_document.hpp"

namespace boxroom {

Answer run_page(const Request& request) {
    const std::string path = request.out.empty() ? "boxroom.html" : request.out;
    const std::string engine = page_engine();
    if (engine.empty())
        throw Error("page", "the page's engine is not beside this program",
                    "install emscripten and node-acorn, then build all of it again");
    const std::string page =
        page_document({"boxroom: a closed box for a room", BOXROOM_VERSION, engine});
    write_output(path, page, {});
    return {"Wrote " + path + ". Open it in a browser, with or without a network.\n",
            {{"file", path},
             {"bytes", page.size()},
             {"timing_s", nlohmann::ordered_json::object()},
             {"warnings", nlohmann::ordered_json::array()}}};
}

}  // namespace boxroom
