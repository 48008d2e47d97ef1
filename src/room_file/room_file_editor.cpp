#include "room_file/room_file_editor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "room_file/toml_text.hpp"

namespace boxroom {
namespace {

std::string element(const std::string& tables, std::size_t index) {
    return fmt::format("{}[{}]", tables, index);
}

std::string axis(const std::string& tables, std::size_t index, int k) {
    return fmt::format("{}[{}].at[{}]", tables, index, k);
}

/// In what unit a value is written that the file does not have: as the room's height is, as Vas.
WrittenUnit usual_unit(Quantity quantity) {
    switch (quantity) {
        case Quantity::length:
            return {"m"};
        case Quantity::volume:
            return {"L", 1e-3};
        case Quantity::level:
            return {"dB"};
        case Quantity::time:
            return {"ms", 1e-3};
        case Quantity::frequency:
            return {"Hz"};
        default:
            return {};
    }
}

std::string joined(const TextGap& gap, const std::vector<std::string>& texts) {
    return gap.head + fmt::format("{}", fmt::join(texts, gap.between)) + gap.tail;
}

}  // namespace

/// A gap and what goes in: texts that are set, or slots that are left.
struct RoomFileEditor::Cut {
    TextGap gap;
    std::vector<std::string> texts;
    std::vector<FileSlot> slots;
};

RoomFileEditor::RoomFileEditor(const std::string& text) : toml_(std::make_unique<TomlText>(text)) {}

RoomFileEditor::~RoomFileEditor() = default;

std::size_t RoomFileEditor::count(const std::string& tables) const {
    const toml::array* list = toml_->array(tables);
    return list ? list->size() : 0;
}

bool RoomFileEditor::has(const std::string& path) const {
    return toml_->at(path) != nullptr;
}

RoomFileEditor::Cut& RoomFileEditor::cut_at(TextGap gap) {
    for (Cut& cut : cuts_)
        if (cut.gap.same_place(gap)) return cut;
    cuts_.push_back({std::move(gap), {}, {}});
    return cuts_.back();
}

void RoomFileEditor::put(const std::string& path, const std::string& toml) {
    const TextGap gap = toml_->gap_at(path);
    std::vector<std::string>& texts = cut_at(gap).texts;
    std::erase_if(texts, [&](const std::string& text) { return text.starts_with(gap.key); });
    texts.push_back(gap.key + toml);
}

void RoomFileEditor::put_slot(const TextGap& gap, FileSlot slot) {
    slot.key = gap.key;
    cut_at(gap).slots.push_back(std::move(slot));
}

std::optional<double> RoomFileEditor::number_at(const std::string& path, Quantity quantity) const {
    const toml::node* node = toml_->at(path);
    if (!node) return std::nullopt;
    if (const auto text = node->value_exact<std::string>()) return parse_quantity(*text, quantity);
    return node->value<double>();
}

WrittenUnit RoomFileEditor::unit_at(const std::string& path, Quantity quantity) const {
    const char* model = quantity == Quantity::length   ? "room.height"
                        : quantity == Quantity::volume ? "driver.vas"
                                                       : "";
    for (const toml::node* node : {toml_->at(path), toml_->at(model)}) {
        if (!node || !(node->is_string() || node->is_number())) continue;
        const auto text = node->value_exact<std::string>();
        return text ? written_unit(*text, quantity) : WrittenUnit{};
    }
    return usual_unit(quantity);
}

std::string RoomFileEditor::number_text(const std::string& path, Quantity quantity,
                                        double value) const {
    const WrittenUnit unit = unit_at(path, quantity);
    const std::string text = format_quantity(value, quantity, unit);
    return unit.name.empty() ? text : toml_string(text);
}

std::string RoomFileEditor::place_text(const std::string& path, const Point& at) const {
    const auto length = [&](double value) { return number_text(path, Quantity::length, value); };
    return fmt::format("[{}, {}, {}]", length(at.x), length(at.y), length(at.z));
}

void RoomFileEditor::set(const std::string& path, Quantity quantity, double value) {
    const std::string text = number_text(path, quantity, value);
    const auto old = number_at(path, quantity);
    if (!old || number_text(path, quantity, *old) != text) put(path, text);
}

void RoomFileEditor::scale_length(const std::string& path, double by) {
    if (const auto old = number_at(path, Quantity::length)) set(path, Quantity::length, *old * by);
}

void RoomFileEditor::set_place(const std::string& tables, std::size_t index, const Point& at) {
    const double values[] = {at.x, at.y, at.z};
    if (has(element(tables, index) + ".box_at"))
        replace_entry(element(tables, index) + ".box_at", "at", place_text("", at));
    else if (!has(axis(tables, index, 0)))
        put(element(tables, index) + ".at", place_text("", at));
    else
        for (int k = 0; k < 3; ++k) set(axis(tables, index, k), Quantity::length, values[k]);
}

void RoomFileEditor::set_word(const std::string& path, const std::string& word) {
    const toml::node* node = toml_->at(path);
    if (!node || node->value_exact<std::string>() != word) put(path, toml_string(word));
}

void RoomFileEditor::replace_entry(const std::string& path, const std::string& key,
                                   const std::string& toml) {
    cut_at(toml_->entry_at(path)).texts = {key + " = " + toml};
}

void RoomFileEditor::rename(const std::string& path, const std::string& key) {
    const std::size_t begin = toml_->entry_at(path).begin;
    const std::size_t equals = toml_->text().find_first_of("= \t", begin);
    cut_at({begin, equals}).texts = {key};
}

void RoomFileEditor::comment_out_entry(const std::string& path) {
    if (!has(path)) return;
    const std::string& text = toml_->text();
    TextGap entry = toml_->entry_at(path);
    const std::size_t after = text.find_first_not_of(" \t\r", entry.end);
    const bool last = after == std::string::npos || text[after] == '\n' || text[after] == '#';
    const std::size_t line = text.rfind('\n', entry.begin) + 1;
    if (last && text.substr(line, entry.begin - line).find_first_of("{,") == std::string::npos) {
        comment_lines(entry);
        return;
    }
    // One of several in a line: with the comma behind it, or else the one before.
    if (!last && text[after] == ',')
        entry.end = text.find_first_not_of(" \t", after + 1);
    else if (const std::size_t before = text.find_last_not_of(" \t", entry.begin - 1);
             before != std::string::npos && text[before] == ',')
        entry.begin = before;
    cut_at({entry.begin, entry.end}).texts = {""};
}

void RoomFileEditor::add_place(const std::string& tables, const std::string& name,
                               const Point& at) {
    add_table(tables, {"name = " + toml_string(name), "at = " + place_text("", at)});
}

void RoomFileEditor::add_block(const std::string& comment, const std::string& name,
                               const Point& from, const Point& to, const std::string& surface) {
    const std::vector<std::string> lines{"name = " + toml_string(name),
                                         "from = " + place_text("", from),
                                         "to = " + place_text("", to), "surface = " + surface};
    if (has("block"))  // a list, in which no comment can stand
        put("block", fmt::format("[{{ {} }}]", fmt::join(lines, ", ")));
    else {
        std::vector<std::string> all{"# " + comment};
        all.insert(all.end(), lines.begin(), lines.end());
        add_table("block", all);
    }
}

void RoomFileEditor::add_table(const std::string& tables, const std::vector<std::string>& lines) {
    const toml::array* list = toml_->array(tables);
    const bool inline_list =
        list && !list->empty() && list->back().as_table() && list->back().as_table()->is_inline();
    if (inline_list) {
        const std::size_t end = toml_->gap_of(list->back()).end;
        cut_at({end, end}).texts.push_back(fmt::format(", {{ {} }}", fmt::join(lines, ", ")));
        return;
    }
    // Two of them are two headings: the cut is the same, and so is what stands before the second.
    const std::string& eol = toml_->line_end();
    const std::string body = fmt::format("{}", fmt::join(lines, eol));
    Cut& cut = cut_at(toml_->gap_below("[[" + tables + "]]"));
    cut.gap.between = cut.gap.tail + cut.gap.head;
    cut.texts.push_back(body);
}

void RoomFileEditor::comment_out_all(const std::string& tables) {
    const std::size_t all = count(tables);
    if (all == 0) return;
    const auto& array = *toml_->array(tables);
    if (array[0].as_table()->is_inline()) {
        comment_lines(toml_->gap_of(array));
        return;
    }
    for (std::size_t n = 0; n < all; ++n) comment_out(tables, n);
}

void RoomFileEditor::comment_out(const std::string& tables, std::size_t index) {
    const toml::table& table = *(*toml_->array(tables))[index].as_table();
    TextGap whole = toml_->whole_table(table);
    if (table.is_inline()) {
        const toml::array& list = *toml_->array(tables);
        if (list.size() == 1) return comment_lines(toml_->gap_of(list));
        if (index > 0)
            whole.begin = toml_->gap_of(list[index - 1]).end;
        else
            whole.end = toml_->gap_of(list[1]).begin;
        cut_at(whole).texts.emplace_back();
        return;
    }
    comment_lines(whole);
}

void RoomFileEditor::comment_lines(const TextGap& whole) {
    const std::string& text = toml_->text();
    for (std::size_t line = text.rfind('\n', whole.begin) + 1; line < whole.end;) {
        const std::size_t next = text.find('\n', line);
        if (text.find_first_not_of(" \t\r\n", line) < next)
            cut_at({line, line}).texts.emplace_back("# ");
        if (next == std::string::npos) break;
        line = next + 1;
    }
}

void RoomFileEditor::leave(const std::string& name, const std::string& path, Quantity quantity,
                           std::optional<double> otherwise) {
    const auto value = has(path) ? number_at(path, quantity) : otherwise;
    put_slot(toml_->gap_at(path), {name, "", quantity, value, unit_at(path, quantity)});
}

void RoomFileEditor::leave_place(const std::string& name, const std::string& tables,
                                 std::size_t index) {
    for (int k = 0; k < 3; ++k) {
        const std::string path = axis(tables, index, k), slot = fmt::format("{} {}", name, k);
        if (has(path)) {
            leave(slot, path, Quantity::length);
            continue;
        }
        const std::string box_at = element(tables, index) + ".box_at";
        const bool by_box = has(box_at);
        TextGap gap = by_box ? toml_->entry_at(box_at) : toml_->gap_below("[[" + tables + "]]");
        gap.head += (by_box ? "" : "name = " + toml_string(name) + toml_->line_end()) + "at = [";
        gap.between = ", ";
        gap.tail = ']' + gap.tail;
        put_slot(gap, {slot, "", Quantity::length, {}, unit_at(path, Quantity::length)});
    }
}

void RoomFileEditor::leave_word(const std::string& name, const std::string& path,
                                const std::string& otherwise) {
    const toml::node* node = toml_->at(path);
    const auto word = node ? node->value_exact<std::string>() : otherwise;
    FileSlot slot{name, ""};
    slot.word = word.value_or("");
    put_slot(toml_->gap_at(path), slot);
}

std::vector<FilePiece> RoomFileEditor::pieces() const {
    std::vector<Cut> sorted = cuts_;
    std::ranges::stable_sort(sorted, {}, [](const Cut& cut) { return cut.gap.begin; });
    std::vector<FilePiece> out{{""}};
    const auto add = [&](const std::string& text) {
        if (!out.back().slots.empty()) out.push_back({""});
        out.back().was += text;
    };
    const std::string& all = toml_->text();
    std::size_t at = 0;
    for (const Cut& cut : sorted) {
        if (!cut.slots.empty() && !cut.texts.empty())
            throw std::logic_error("a value of a room file is set and left at once");
        add(all.substr(at, cut.gap.begin - at));
        const std::string was = all.substr(cut.gap.begin, cut.gap.end - cut.gap.begin);
        if (cut.slots.empty())
            add(joined(cut.gap, cut.texts));
        else
            out.push_back({was, cut.gap.head, cut.gap.between, cut.gap.tail, cut.slots});
        at = cut.gap.end;
    }
    if (at < all.size()) add(all.substr(at));
    return out;
}

std::string RoomFileEditor::text() const {
    std::string out;
    for (const FilePiece& piece : pieces()) out += piece.was;
    return out;
}

}  // namespace boxroom
