#include "report/page_frame.hpp"

#include <fmt/format.h>

#include "report/html_text.hpp"
#include "report/page_text.hpp"

namespace boxroom {

std::string open_page(const std::string& title, const std::string& version,
                      const std::string& attributes) {
    return fmt::format(
        "<!doctype html>\n<html lang=\"en\"{}><head><meta charset=\"utf-8\">"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"
        "<meta name=\"generator\" content=\"boxroom {}\"><link rel=\"icon\" href=\"data:,\">"
        "<title>{}</title><style>{}</style></head><body><main>\n",
        attributes, escape_html(version), escape_html(shortened_text(title, 120)), page_style());
}

std::string section(const std::string& id, const std::string& title, const std::string& content) {
    if (content.empty()) return "";
    return fmt::format(
        "<section aria-labelledby=\"{0}-heading\"><h2 id=\"{0}-heading\">{1}</h2>"
        "<div>{2}</div></section>\n",
        id, title, content);
}

std::string folded_section(const std::string& id, const std::string& title,
                           const std::string& content) {
    if (content.empty()) return "";
    return fmt::format(
        "<section aria-labelledby=\"{0}-heading\"><details class=\"part\" open><summary>"
        "<h2 id=\"{0}-heading\">{1}</h2></summary><div>{2}</div></details></section>\n",
        id, title, content);
}

}  // namespace boxroom
