#include "room_file/file_difference.hpp"

#include <algorithm>
#include <sstream>

#include "room_file/toml_text.hpp"

namespace boxroom {
namespace {

struct DifferentEntry {
    std::string key, value;
};

std::string value_text(const toml::node& node) {
    if (const auto text = node.value<std::string>(); text && node.is_string()) return *text;
    std::ostringstream out;
    node.visit([&](const auto& value) {
        using Value = std::remove_cvref_t<decltype(value)>;
        if constexpr (toml::is_array<Value> || toml::is_table<Value>)
            out << value;
        else
            out << value.get();
    });
    std::string text = out.str();
    std::ranges::replace(text, '\n', ' ');
    return text;
}

/// "box.volume"; of the second [[sub]] "sub 2, at".
void collect(const toml::table& table, const std::string& before,
             std::vector<DifferentEntry>& out) {
    for (const auto& [key, node] : table) {
        const std::string name = before + std::string(key.str());
        if (const toml::table* inner = node.as_table()) {
            collect(*inner, name + ".", out);
        } else if (const toml::array* list = node.as_array();
                   list && !list->empty() && list->is_homogeneous<toml::table>()) {
            for (std::size_t n = 0; n < list->size(); ++n)
                collect(*list->get_as<toml::table>(n), name + " " + std::to_string(n + 1) + ", ",
                        out);
        } else {
            out.push_back({name, value_text(node)});
        }
    }
}

std::vector<DifferentEntry> entries(const std::string& text) {
    const TomlText file(text);
    std::vector<DifferentEntry> out;
    collect(file.root(), "", out);
    std::erase_if(out, [](const DifferentEntry& entry) { return entry.key == "title"; });
    return out;
}

const DifferentEntry* find(const std::vector<DifferentEntry>& entries, const std::string& key) {
    const auto it = std::ranges::find(entries, key, &DifferentEntry::key);
    return it == entries.end() ? nullptr : &*it;
}

}  // namespace

std::vector<FileDifference> file_differences(const std::string& first, const std::string& second) {
    const std::vector<DifferentEntry> a = entries(first), b = entries(second);
    std::vector<FileDifference> out;
    for (const DifferentEntry& entry : a) {
        const DifferentEntry* other = find(b, entry.key);
        if (!other || other->value != entry.value)
            out.push_back({entry.key, entry.value, other ? other->value : ""});
    }
    for (const DifferentEntry& entry : b)
        if (!find(a, entry.key)) out.push_back({entry.key, "", entry.value});
    return out;
}

}  // namespace boxroom
