#pragma once
#include <toml++/toml.h>

#include <string>

namespace boxroom {

/// A stretch of bytes that may be replaced: by `head`, what is written (each value behind its key),
/// `between` them, and `tail`. Several values may share one where their table lacks them all.
struct TextGap {
    std::size_t begin = 0, end = 0;
    std::string head{}, between{}, tail{};
    std::string key{};  ///< "volume = " where the file has no such key

    bool same_place(const TextGap& other) const {
        return begin == other.begin && end == other.end && head == other.head;
    }
};

/// A TOML document and the places of its values in the text.
class TomlText {
  public:
    /// Throws Error if the text is no TOML.
    explicit TomlText(std::string text);

    const std::string& text() const { return text_; }
    const toml::table& root() const { return root_; }
    /// The value at "box.volume", "seat[0].at[1]"; null where there is none.
    const toml::node* at(const std::string& path) const;
    /// [[tables]] or a list.
    const toml::array* array(const std::string& name) const {
        return root_.get_as<toml::array>(name);
    }

    TextGap gap_of(const toml::node& node) const;
    /// Where the value is, or where it can be put: in its table, or in one at the end of the file.
    TextGap gap_at(const std::string& path) const;
    /// A key and its value: from the first letter of the key to the end of the value.
    TextGap entry_at(const std::string& path) const;
    /// At the end of the file, below a new heading.
    TextGap gap_below(const std::string& heading) const;
    /// From the heading of a table to the end of its last value.
    TextGap whole_table(const toml::table& table) const;
    const std::string& line_end() const { return line_end_; }

  private:
    std::size_t byte_at(const toml::source_position& where) const;
    bool has_heading(const toml::table& table, const std::string& name) const;

    std::string text_, line_end_;
    toml::table root_;
};

/// Text as a TOML basic string, with its quotation marks (TOML 1.0, "String").
std::string toml_string(const std::string& text);

}  // namespace boxroom
