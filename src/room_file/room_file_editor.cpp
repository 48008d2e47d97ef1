#include "room_file/room_file_editor.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/error.hpp"
#include "room_file/toml_reader.hpp"

namespace boxroom {
namespace {

/// A stretch of bytes to be replaced.
struct Change {
    std::size_t begin, end;
    std::string text;
};

/// The byte that a line and a column (both from 1, columns in code points) stand for.
std::size_t byte_at(const std::string& text, const toml::source_position& where) {
    std::size_t at = 0;
    for (toml::source_index line = 1; line < where.line; ++line) {
        const std::size_t end = text.find('\n', at);
        if (end == std::string::npos) return text.size();
        at = end + 1;
    }
    for (toml::source_index column = 1; column < where.column && at < text.size(); ++column) do
            ++at;
        while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80);
    return at;
}

Change replacing(const std::string& text, const toml::node& node, std::string by) {
    return {byte_at(text, node.source().begin), byte_at(text, node.source().end), std::move(by)};
}

std::string place_text(const Point& at) {
    return fmt::format("[\"{:.5f} m\", \"{:.5f} m\", \"{:.5f} m\"]", at.x, at.y, at.z);
}

/// The name as a TOML string.
std::string quoted(const std::string& name) {
    std::string out = "\"";
    for (char c : name) {
        if (c == '"' || c == '\\') out += '\\';
        out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    }
    return out + '"';
}

/// Replaces `at` in the tables of one kind; returns how many there were.
template <typename Things, typename Place>
std::size_t move_all(const std::string& text, const toml::table& root, const char* kind,
                     const Things& things, const Place& place, std::vector<Change>& changes) {
    const toml::array* tables = root.get_as<toml::array>(kind);
    const std::size_t count = tables ? std::min(tables->size(), things.size()) : 0;
    for (std::size_t i = 0; i < count; ++i)
        if (const toml::table* table = (*tables)[i].as_table())
            if (const toml::node* at = table->get("at"))
                changes.push_back(replacing(text, *at, place_text(place(things[i]))));
    return count;
}

}  // namespace

std::string rearranged_room_file(const std::string& text, const std::vector<Seat>& seats,
                                 const std::vector<PlacedSub>& subs, double volume) {
    toml::table root;
    try {
        root = toml::parse(std::string_view(text));
    } catch (const toml::parse_error& error) {
        throw Error("room file", "this is not TOML: " + std::string(error.description()),
                    "start from a file that `boxroom check` accepts");
    }
    std::vector<Change> changes;
    std::string added;
    move_all(
        text, root, "seat", seats, [](const Seat& s) { return s.at; }, changes);
    const std::size_t known = move_all(
        text, root, "sub", subs, [](const PlacedSub& s) { return s.at; }, changes);
    for (std::size_t i = known; i < subs.size(); ++i)
        added += fmt::format("\n[[sub]]\nname = {}\nat = {}\n", quoted(subs[i].name),
                             place_text(subs[i].at));

    const std::string litres = fmt::format("\"{:.4f} L\"", volume * 1e3);
    if (const toml::table* box = root.get_as<toml::table>("box")) {
        if (const toml::node* old = box->get("volume")) {
            changes.push_back(replacing(text, *old, litres));
        } else {  // after the heading [box], or after the { of an inline table
            const std::size_t begin = byte_at(text, box->source().begin);
            const bool inline_table = begin < text.size() && text[begin] == '{';
            const std::size_t at = text.find(inline_table ? '{' : ']', begin) + 1;
            changes.push_back({at, at,
                               inline_table ? " volume = " + litres + (box->empty() ? " " : ",")
                                            : "\nvolume = " + litres});
        }
    } else {
        added += "\n[box]\nvolume = " + litres + "\n";
    }

    std::sort(changes.begin(), changes.end(),
              [](const Change& a, const Change& b) { return a.begin > b.begin; });
    std::string result = text;
    for (const Change& change : changes)
        result.replace(change.begin, change.end - change.begin, change.text);
    if (!added.empty() && !result.empty() && result.back() != '\n') result += '\n';
    return result + added;
}

}  // namespace boxroom
