#include "room_file/toml_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/error.hpp"

namespace boxroom {
namespace {

const std::string byte_order_mark = "\xEF\xBB\xBF";

toml::table parsed(const std::string& text) {
    try {
        return toml::parse(std::string_view(text));
    } catch (const toml::parse_error& error) {
        throw Error("room file", "this is not TOML: " + std::string(error.description()),
                    "start from a file that `boxroom check` accepts");
    }
}

/// The latest place at which something of this node ends.
toml::source_position last_end(const toml::node& node) {
    toml::source_position last = node.source().end;
    const auto look = [&](const toml::node& child) { last = std::max(last, last_end(child)); };
    if (const toml::table* table = node.as_table())
        for (auto&& [key, value] : *table) look(value);
    if (const toml::array* list = node.as_array())
        for (const toml::node& value : *list) look(value);
    return last;
}

}  // namespace

TomlText::TomlText(std::string text) : text_(std::move(text)), root_(parsed(text_)) {
    const std::size_t first = text_.find('\n');
    const bool carriage_return =
        first != std::string::npos && first > 0 && text_[first - 1] == '\r';
    line_end_ = carriage_return ? "\r\n" : "\n";
}

const toml::node* TomlText::at(const std::string& path) const {
    return root_.at_path(path).node();
}

/// The byte that a line and a column (both from 1, columns in code points) stand for.
std::size_t TomlText::byte_at(const toml::source_position& where) const {
    std::size_t at = text_.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
    for (toml::source_index line = 1; line < where.line; ++line) {
        const std::size_t end = text_.find('\n', at);
        if (end == std::string::npos) return text_.size();
        at = end + 1;
    }
    for (toml::source_index column = 1; column < where.column && at < text_.size(); ++column) do
            ++at;
        while (at < text_.size() && (static_cast<unsigned char>(text_[at]) & 0xC0) == 0x80);
    return at;
}

TextGap TomlText::gap_of(const toml::node& node) const {
    return {byte_at(node.source().begin), byte_at(node.source().end)};
}

/// True for [name] and [[name]] themselves: a table may also be there by [name.more] alone.
bool TomlText::has_heading(const toml::table& table, const std::string& name) const {
    const TextGap heading = gap_of(table);
    std::string words = text_.substr(heading.begin, heading.end - heading.begin);
    std::erase_if(words,
                  [](char c) { return std::string(" \t\"'[]").find(c) != std::string::npos; });
    return text_[heading.begin] == '[' && words == name;
}

TextGap TomlText::gap_at(const std::string& path) const {
    if (const toml::node* node = at(path)) return gap_of(*node);
    const std::size_t dot = path.rfind('.');
    const std::string key = path.substr(dot + 1) + " = ";
    if (dot == std::string::npos) {  // of no table: before all tables
        const std::size_t start = text_.starts_with(byte_order_mark) ? 3 : 0;
        return {start, start, "", line_end_, line_end_, key};
    }
    const std::string owner = path.substr(0, dot), name = owner.substr(0, owner.find('['));
    const toml::node* node = at(owner);
    const toml::table* table = node ? node->as_table() : nullptr;
    const std::size_t begin = table ? gap_of(*table).begin : 0;
    if (table && table->is_inline())
        return {begin + 1, begin + 1, " ", ", ", table->empty() ? " " : ",", key};
    if (table && has_heading(*table, name)) {
        std::size_t end = std::min(text_.find('\n', begin), text_.size());
        if (end > begin && text_[end - 1] == '\r') --end;
        return {end, end, line_end_, line_end_, "", key};
    }
    if (table && text_[begin] != '[') {  // box.filling = 1.15
        const std::size_t line = text_.rfind('\n', begin) + 1;
        const std::size_t start = line == 0 && text_.starts_with(byte_order_mark) ? 3 : line;
        return {start, start, "", line_end_, line_end_, owner + '.' + key};
    }
    TextGap gap = gap_below('[' + name + ']');
    gap.key = key;
    return gap;
}

TextGap TomlText::entry_at(const std::string& path) const {
    TextGap gap = gap_at(path);
    std::size_t key = text_.rfind('=', gap.begin);
    const auto back_over = [&](const char* what, bool over) {
        while (key > 0 &&
               (std::string_view(what).find(text_[key - 1]) != std::string_view::npos) == over)
            --key;
    };
    back_over(" \t", true);
    if (text_[key - 1] == '"' || text_[key - 1] == '\'')
        key = text_.rfind(text_[key - 1], key - 2);
    else
        back_over(" \t\r\n{,.", false);
    gap.begin = key;
    return gap;
}

TextGap TomlText::gap_below(const std::string& heading) const {
    return {text_.size(), text_.size(), line_end_ + heading + line_end_, line_end_, line_end_};
}

TextGap TomlText::whole_table(const toml::table& table) const {
    return {byte_at(table.source().begin), byte_at(last_end(table))};
}

std::string toml_string(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto code = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\')
            out += std::string("\\") + c;
        else if (code < 0x20 || code == 0x7F)
            out += fmt::format("\\u{:04X}", code);
        else
            out += c;
    }
    return out + "\"";
}

}  // namespace boxroom
