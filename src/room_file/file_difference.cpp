#include "room_file/file_difference.hpp"

#include <algorithm>
#include <sstream>

#include "room_file/toml_text.hpp"

namespace boxroom {
namespace {

struct Entry {
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
void collect(const toml::table& table, const std::string& before, std::vector<Entry>& out) {
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

std::vector<Entry> entries(const std::string& text) {
    const TomlText file(text);
    std::vector<Entry> out;
    collect(file.root(), "", out);
    std::erase_if(out, [](const Entry& entry) { return entry.key == "title"; });
    return out;
}

const Entry* find(const std::vector<Entry>& entries, const std::string& key) {
    const auto it = std::ranges::find(entries, key, &Entry::key);
    return it == entries.end() ? nullptr : &*it;
}

}  // namespace

std::vector<FileDifference> file_differences(const std::string& first, const std::string& second) {
    const std::vector<Entry> a = entries(first), b = entries(second);
    std::vector<FileDifference> out;
    for (const Entry& entry : a) {
        const Entry* other = find(b, entry.key);
        if (!other || other->value != entry.value)
            out.push_back({entry.key, entry.value, other ? other->value : ""});
    }
    for (const Entry& entry : b)
        if (!find(a, entry.key)) out.push_back({entry.key, "", entry.value});
    return out;
}

}  // namespace boxroom
