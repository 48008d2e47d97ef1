#pragma once
#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/point.hpp"
#include "base/units.hpp"

namespace boxroom {

class TomlText;
struct TextGap;

/// A value that somebody else will write (the page's script), and how it stands in the file.
struct FileSlot {
    std::string name;  ///< what the page calls it
    std::string key;   ///< goes before it: "volume = " where the file has no such key
    Quantity quantity = Quantity::plain;
    std::optional<double> value = {};  ///< as the file has it [SI]; none: it has none
    WrittenUnit unit = {};
    std::string word = {};  ///< as the file has it, where it is no number
};

/// A piece of a room file: `was`, unless one of its slots gets another value than the file has.
/// Then it is `head`, the slots that do (each behind its key) with `between` among them, and
/// `tail`.
struct FilePiece {
    std::string was, head = {}, between = {}, tail = {};
    std::vector<FileSlot> slots = {};
};

/// The text of a room file in which single values are replaced: in the units that stand there, and
/// only where that changes what is written. All else, comments included, stays byte for byte. Paths
/// are those of toml++: "box.volume", "seat[0].at[1]". A key that is missing is put into its table,
/// and a table at the end of the file.
class RoomFileEditor {
  public:
    /// Throws Error if the text is no TOML.
    explicit RoomFileEditor(const std::string& text);
    ~RoomFileEditor();

    /// How many [[tables]] there are.
    std::size_t count(const std::string& tables) const;
    bool has(const std::string& path) const;

    void set(const std::string& path, Quantity quantity, double value);
    /// Multiplies a length, if there is one.
    void scale_length(const std::string& path, double by);
    /// `at` of one of the [[tables]]; takes the place of its box_at.
    void set_place(const std::string& tables, std::size_t index, const Point& at);
    void set_word(const std::string& path, const std::string& word);
    /// A table, an array or whatever else TOML can say.
    void set_toml(const std::string& path, const std::string& toml) { put(path, toml); }
    /// One key and value of a table for another: `at = [...]` becomes `box_at = [...]`.
    void replace_entry(const std::string& path, const std::string& key, const std::string& toml);
    /// Another key for the same value: `left = "brick"` becomes `edge_1 = "brick"`.
    void rename(const std::string& path, const std::string& key);
    /// Puts a # before each line of a key and its value; takes them out of a table of one line.
    void comment_out_entry(const std::string& path);
    /// A further [[table]] of these lines, "key = value" each.
    void add_table(const std::string& tables, const std::vector<std::string>& lines);
    /// A further [[table]], of a name and a place.
    void add_place(const std::string& tables, const std::string& name, const Point& at);
    /// A further [[block]] with a comment before it; `surface` is TOML.
    void add_block(const std::string& comment, const std::string& name, const Point& from,
                   const Point& to, const std::string& surface);
    /// Puts a # before each line of a [[table]]; takes the element out where they are a list.
    void comment_out(const std::string& tables, std::size_t index);
    /// All of them, as [[tables]] or as a list.
    void comment_out_all(const std::string& tables);
    /// The text with everything that was set.
    std::string text() const;
    /// In which unit a number is written there; where the file has none, as the room's height or
    /// Vas is.
    WrittenUnit unit_at(const std::string& path, Quantity quantity) const;

    /// Leaves a number for others to write. `otherwise` is what it is where the file does not say.
    void leave(const std::string& name, const std::string& path, Quantity quantity,
               std::optional<double> otherwise = {});
    /// Leaves `at` as "NAME 0", "NAME 1" and "NAME 2", in a [[table]] that is added if there is
    /// none.
    void leave_place(const std::string& name, const std::string& tables, std::size_t index);
    /// Leaves a word, or other TOML.
    void leave_word(const std::string& name, const std::string& path,
                    const std::string& otherwise = "");
    /// The text with everything that was set, cut at what was left.
    std::vector<FilePiece> pieces() const;

  private:
    struct Cut;
    Cut& cut_at(TextGap gap);
    void comment_lines(const TextGap& whole);
    void put(const std::string& path, const std::string& toml);
    void put_slot(const TextGap& gap, FileSlot slot);
    std::optional<double> number_at(const std::string& path, Quantity quantity) const;
    std::string number_text(const std::string& path, Quantity quantity, double value) const;
    std::string place_text(const std::string& path, const Point& at) const;

    std::unique_ptr<const TomlText> toml_;
    std::vector<Cut> cuts_;
};

}  // namespace boxroom
