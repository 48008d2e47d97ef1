#pragma once
#include <toml++/toml.h>

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/error.hpp"
#include "base/units.hpp"

namespace boxroom {

/// Collects what is wrong with a file, so that all of it can be said at once.
class FaultList {
  public:
    explicit FaultList(std::string file) : file_(std::move(file)) {}
    void add(int line, std::string what, std::string mend);
    /// Runs `work`; an Error it throws is kept, moved to `line` and headed by `subject`.
    /// True if it threw nothing.
    bool attempt(int line, const std::string& subject, const std::function<void()>& work);
    std::string where(int line) const;
    bool empty() const { return faults_.empty(); }
    /// Throws one Error with every fault, in the order of the file, of which the first 100 are
    /// told; does nothing if there is none.
    void throw_if_any() const;

  private:
    struct Placed {
        int line;
        Fault fault;
    };
    std::string file_;
    std::vector<Placed> faults_;
};

/// What a number has to be, both ends included; `wanted` completes "... must be".
struct Limits {
    double low, high;
    std::string wanted;
};

/// A number read from the file; `value` is the fallback where the key is missing or wrong.
struct Checked {
    double value = 0;
    bool good = false;  ///< given and right
    int line = 0;
};

inline constexpr std::size_t most_numbers = 2000;  ///< in one list
inline constexpr std::size_t most_tables = 500;    ///< of one name: seats, blocks, ...

/// One table of the file. Every getter notes the key as known and puts faults into the list instead
/// of throwing; close() then reports the keys nobody asked for.
class TableReader {
  public:
    /// `title` is what messages call the table: "[room]". A null table has no keys.
    TableReader(const toml::table* table, std::string title, int line, FaultList& faults);

    bool present() const { return table_ != nullptr; }
    int line() const { return line_; }
    int line(std::string_view key) const;  ///< of the value, else of the table
    const std::string& title() const { return title_; }
    bool has(const std::string& key);
    const toml::node* find(const std::string& key);  ///< null if missing
    const toml::node* require(const std::string& key, const std::string& example);

    Checked number(const std::string& key, Quantity quantity, const Limits& limits,
                   double fallback = 0);
    Checked required(const std::string& key, Quantity quantity, const Limits& limits);
    std::optional<double> optional(const std::string& key, Quantity quantity, const Limits& limits);
    std::optional<int> whole_number(const std::string& key, int low, int high);
    std::optional<bool> yes_or_no(const std::string& key);  ///< true or false
    std::optional<std::string> text(const std::string& key);
    /// The name of a file as it stands, to be opened: it goes to people through visible_text alone.
    std::optional<std::string> file_name(const std::string& key);
    std::optional<std::string> required_text(const std::string& key, const std::string& example);
    /// An array of exactly `count` numbers (from one to most_numbers where count is 0).
    std::optional<std::vector<double>> numbers(const std::string& key, Quantity quantity,
                                               std::size_t count, const Limits& limits);

    /// A list of pairs: [["20 Hz", "6 dB"], ["80 Hz", "0 dB"]].
    std::optional<std::vector<std::array<double, 2>>> pairs(
        const std::string& key, const std::array<Quantity, 2>& quantities,
        const std::array<Limits, 2>& limits);

    /// The table [key] that every file must have; `begin` says with what it begins.
    TableReader required_table(const std::string& key, const std::string& begin);
    /// The table `key` within this one; not present where missing or no table.
    TableReader table(const std::string& key, const std::string& title);
    /// The tables of [[key]].
    std::vector<TableReader> tables(const std::string& key);

    /// Reports every key that no getter asked for, with the nearest one that was.
    void close();
    void fault(std::string_view key, std::string what, std::string mend);
    /// The number at any node of the file; a fault there, headed by `subject`, and nothing, where
    /// it is none or outside the limits.
    std::optional<double> read(const toml::node& node, const std::string& subject,
                               Quantity quantity, const Limits& limits);
    FaultList& faults() { return *faults_; }

  private:
    std::optional<std::string> text_as_written(const std::string& key);

    const toml::table* table_;
    std::string title_;
    int line_;
    FaultList* faults_;
    std::vector<std::string> known_;  ///< asked for, in that order
};

int line_of(const toml::node& node);
/// The value as the file says it, for messages: "4.10 L", 0.45, a table.
std::string as_written(const toml::node& node);

}  // namespace boxroom
