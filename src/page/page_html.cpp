#include "page/page_html.hpp"

#include "report/html_text.hpp"

namespace boxroom {

std::string page_html(std::string_view packed_engine, const std::string& version) {
    // Nothing is fetched, and what a room file says can start nothing: only what stands here runs.
    return "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
           "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
           "<meta name=\"generator\" content=\"boxroom " +
           escape_html(version) +
           "\">\n<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
           "script-src 'unsafe-inline' 'wasm-unsafe-eval' blob:; worker-src blob:; style-src "
           "'unsafe-inline'; img-src data: blob:; frame-src blob: about:; connect-src 'none'\">\n"
           "<title>boxroom: a closed box for a room</title>\n<style>\n" +
           std::string(tool_style()) + "</style>\n</head>\n" + std::string(tool_body()) +
           "<script type=\"text/plain\" id=\"engine\">" + base64(packed_engine) +
           "</script>\n<script>\n" + std::string(tool_script()) + "</script>\n</body>\n</html>\n";
}

}  // namespace boxroom
