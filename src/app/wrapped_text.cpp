#include "app/wrapped_text.hpp"

namespace boxroom {

std::string wrapped(std::string_view text, int indent, int width) {
    const std::string margin(static_cast<std::size_t>(indent), ' ');
    std::string out, line;
    const auto end_line = [&] {
        if (!line.empty()) out += margin + line + "\n";
        line.clear();
    };
    while (!text.empty()) {
        const std::size_t begin = text.find_first_not_of(' ');
        if (begin == std::string_view::npos) break;
        text.remove_prefix(begin);
        const std::string_view word = text.substr(0, text.find(' '));
        text.remove_prefix(word.size());
        if (!line.empty() &&
            margin.size() + line.size() + 1 + word.size() > static_cast<std::size_t>(width))
            end_line();
        line += (line.empty() ? "" : " ") + std::string(word);
    }
    end_line();
    return out;
}

}  // namespace boxroom
