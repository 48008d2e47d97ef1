#include "room_file/document.hpp"

#include <sstream>

#include "room_file/toml_file.hpp"

namespace boxroom {
namespace {

void add_lines(const toml::node& node, const std::string& path, std::map<std::string, int>& lines) {
    if (!path.empty()) lines[path] = static_cast<int>(node.source().begin.line);
    if (const toml::table* table = node.as_table())
        for (auto&& [key, value] : *table)
            add_lines(value, (path.empty() ? "" : path + ".") + std::string(key.str()), lines);
    if (const toml::array* list = node.as_array())
        for (std::size_t n = 0; n < list->size(); ++n)
            add_lines((*list)[n], path + "[" + std::to_string(n) + "]", lines);
}

}  // namespace

TomlDocument toml_document(const std::string& text, const std::string& name) {
    const toml::table root = parse_toml(text, name, {"room file", "begin with the sample room"});
    TomlDocument document;
    std::ostringstream json;
    json << toml::json_formatter{root};
    document.json = json.str();
    add_lines(root, "", document.lines);
    return document;
}

}  // namespace boxroom
