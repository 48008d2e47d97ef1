#include "report/html_table.hpp"

#include <fmt/format.h>

#include <string_view>

#include "report/html_text.hpp"

namespace boxroom {

std::string open_table(const std::string& title, const std::vector<std::string>& heads) {
    std::string out = fmt::format(
        "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{0}\">"
        "<table><caption>{0}</caption><thead><tr>",
        escape_html(title));
    for (const std::string& head : heads) {
        const bool words = head.starts_with(' ');
        out += fmt::format("<th scope=\"col\"{}>{}</th>", words ? " class=\"words\"" : "",
                           escape_html(words ? head.substr(1) : head));
    }
    return out + "</tr></thead><tbody>";
}

std::string criterion_head(const Criterion& criterion) {
    std::string head = criterion.label;
    if (const auto ending = head.find("ness"); ending != std::string::npos)
        head.insert(ending, "\u00ad");  // a soft hyphen
    return std::string_view(criterion.unit) == "1" ? head : head + ", " + criterion.unit;
}

std::string table_cell(const std::string& markup) {
    return "<td>" + markup + "</td>";
}

}  // namespace boxroom
