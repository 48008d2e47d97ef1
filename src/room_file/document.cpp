#include "room_file/document.hpp"

#include <cmath>
#include <optional>
#include <sstream>

#include "base/error.hpp"
#include "base/units.hpp"
#include "room_file/toml_file.hpp"

namespace boxroom {
namespace {

std::optional<double> length_in(const toml::node& node) {
    if (const auto number = node.value<double>();
        number && node.is_number() && std::isfinite(*number))
        return number;
    const auto text = node.value_exact<std::string>();
    if (!text) return std::nullopt;
    try {
        return parse_quantity(*text, Quantity::length);
    } catch (const Error&) {
        return std::nullopt;
    }
}

void add_node(const toml::node& node, const std::string& path, TomlDocument& document) {
    if (!path.empty()) document.lines[path] = static_cast<int>(node.source().begin.line);
    if (const auto length = length_in(node)) document.lengths[path] = *length;
    if (const toml::table* table = node.as_table())
        for (auto&& [key, value] : *table)
            add_node(value, (path.empty() ? "" : path + ".") + std::string(key.str()), document);
    if (const toml::array* list = node.as_array())
        for (std::size_t n = 0; n < list->size(); ++n)
            add_node((*list)[n], path + "[" + std::to_string(n) + "]", document);
}

}  // namespace

TomlDocument toml_document(const std::string& text, const std::string& name) {
    const toml::table root = parse_toml(text, name, {"room file", "begin with the sample room"});
    TomlDocument document;
    std::ostringstream json;
    json << toml::json_formatter{root};
    document.json = json.str();
    add_node(root, "", document);
    return document;
}

}  // namespace boxroom
