#include "room_file/toml_reader.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "base/spelling.hpp"

namespace boxroom {

namespace {

bool blank(const std::string& text) {
    return text.find_first_not_of(" \t\r\n") == std::string::npos;
}

}  // namespace

void FaultList::add(int line, std::string what, std::string mend) {
    faults_.push_back({line, {where(line), std::move(what), std::move(mend)}});
}

bool FaultList::attempt(int line, const std::string& subject, const std::function<void()>& work) {
    try {
        work();
        return true;
    } catch (const Error& error) {
        for (const Fault& fault : error.faults())
            add(line, (subject.empty() ? "" : subject + ": ") + fault.what, fault.mend);
        return false;
    }
}

std::string FaultList::where(int line) const {
    return file_ + ':' + std::to_string(std::max(line, 1));
}

void FaultList::throw_if_any() const {
    if (faults_.empty()) return;
    std::vector<Placed> sorted = faults_;
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const Placed& a, const Placed& b) { return a.line < b.line; });
    constexpr std::size_t told = 100;
    std::vector<Fault> all;
    for (Placed& placed : sorted) {
        if (all.size() == told) {
            all.push_back({file_,
                           "there are " + std::to_string(sorted.size() - told) + " more faults",
                           "mend these first"});
            break;
        }
        all.push_back(std::move(placed.fault));
    }
    throw Error(std::move(all));
}

int line_of(const toml::node& node) {
    return std::max(1, static_cast<int>(node.source().begin.line));
}

std::string as_written(const toml::node& node) {
    std::ostringstream out;
    if (const auto text = node.value_exact<std::string>())
        out << '"' << *text << '"';
    else if (node.is_table())
        out << "a table";
    else if (node.is_array())
        out << "a list";
    else if (const auto truth = node.value_exact<bool>())
        out << (*truth ? "true" : "false");
    else if (const auto whole = node.value_exact<std::int64_t>())
        out << *whole;
    else if (const auto number = node.value<double>())
        out << *number;
    else
        out << "a date or time";
    return out.str();
}

TableReader::TableReader(const toml::table* table, std::string title, int line, FaultList& faults)
    : table_(table), title_(std::move(title)), line_(line), faults_(&faults) {}

int TableReader::line(std::string_view key) const {
    const toml::node* node = table_ ? table_->get(key) : nullptr;
    return node ? line_of(*node) : line_;
}

bool TableReader::has(const std::string& key) {
    if (std::find(known_.begin(), known_.end(), key) == known_.end()) known_.push_back(key);
    return table_ && table_->contains(key);
}

const toml::node* TableReader::find(const std::string& key) {
    return has(key) ? table_->get(key) : nullptr;
}

const toml::node* TableReader::require(const std::string& key, const std::string& example) {
    const toml::node* node = find(key);
    // A missing table has been reported as such; its keys need no lines of their own.
    if (!node && table_) fault(key, title_ + " has no " + key, "add " + key + " = " + example);
    return node;
}

void TableReader::fault(std::string_view key, std::string what, std::string mend) {
    faults_->add(line(key), std::move(what), std::move(mend));
}

std::optional<double> TableReader::read(const toml::node& node, const std::string& subject,
                                        Quantity quantity, const Limits& limits) {
    std::optional<double> value;
    if (const auto text = node.value_exact<std::string>()) {
        faults_->attempt(line_of(node), subject, [&] { value = parse_quantity(*text, quantity); });
    } else if (node.is_number()) {
        value = node.value<double>();
    } else {
        faults_->add(line_of(node), subject + " is " + as_written(node) + ", not a number",
                     "write " + describe(quantity));
    }
    if (!value) return std::nullopt;
    if (!std::isfinite(*value)) {
        faults_->add(line_of(node), subject + " is " + as_written(node) + ", not a finite number",
                     "write " + describe(quantity));
        return std::nullopt;
    }
    if (*value < limits.low || *value > limits.high) {
        // A bare number is SI: `vas = 38` is 38 cubic metres, the commonest slip of all.
        const bool bare = node.is_number() && quantity != Quantity::plain;
        faults_->add(line_of(node),
                     subject + " must be " + limits.wanted + ", but is " + as_written(node) +
                         (bare ? " (a bare number is SI)" : ""),
                     bare ? "write it with its unit, " + describe(quantity)
                          : "write a value that is " + limits.wanted);
        return std::nullopt;
    }
    return value;
}

Checked TableReader::number(const std::string& key, Quantity quantity, const Limits& limits,
                            double fallback) {
    const toml::node* node = find(key);
    if (!node) return {fallback, false, line_};
    const auto value = read(*node, title_ + ' ' + key, quantity, limits);
    return {value.value_or(fallback), value.has_value(), line_of(*node)};
}

Checked TableReader::required(const std::string& key, Quantity quantity, const Limits& limits) {
    const std::string words = describe(quantity);
    require(key, words.substr(words.find("such as ") + 8));
    return number(key, quantity, limits);
}

std::optional<double> TableReader::optional(const std::string& key, Quantity quantity,
                                            const Limits& limits) {
    const Checked checked = number(key, quantity, limits);
    return checked.good ? std::optional(checked.value) : std::nullopt;
}

std::optional<int> TableReader::whole_number(const std::string& key, int low, int high) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    const auto value = node->value_exact<int64_t>();
    if (value && *value >= low && *value <= high) return static_cast<int>(*value);
    const std::string wanted =
        "a whole number from " + std::to_string(low) + " to " + std::to_string(high);
    fault(key, title_ + ' ' + key + " must be " + wanted + ", but is " + as_written(*node),
          "write " + wanted);
    return std::nullopt;
}

std::optional<bool> TableReader::yes_or_no(const std::string& key) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    const auto value = node->value_exact<bool>();
    if (!value)
        fault(key, title_ + ' ' + key + " must be true or false, but is " + as_written(*node),
              "write true or false, without quotes");
    return value;
}

std::optional<std::string> TableReader::text_as_written(const std::string& key) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    auto value = node->value_exact<std::string>();
    if (!value)
        fault(key, title_ + ' ' + key + " must be text, but is " + as_written(*node),
              "put it in quotes");
    return value;
}

std::optional<std::string> TableReader::file_name(const std::string& key) {
    auto name = text_as_written(key);
    if (name && (name->empty() || name->find('\0') != name->npos))
        fault(key, title_ + ' ' + key + " names no file: it is " + as_written(*find(key)),
              "write the file's name");
    return name;
}

std::optional<std::string> TableReader::text(const std::string& key) {
    auto value = text_as_written(key);
    // Names go to terminals, pages and pictures: nothing in them is alive from here on.
    if (value && !blank(*value)) *value = visible_text(*value);
    return value;
}

std::optional<std::string> TableReader::required_text(const std::string& key,
                                                      const std::string& example) {
    require(key, '"' + example + '"');
    auto value = text(key);
    if (value && blank(*value)) {
        fault(key, title_ + ' ' + key + " is empty", "write for example \"" + example + '"');
        return std::nullopt;
    }
    return value;
}

std::optional<std::vector<double>> TableReader::numbers(const std::string& key, Quantity quantity,
                                                        std::size_t count, const Limits& limits) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    const toml::array* list = node->as_array();
    const bool fits = list && (count > 0 ? list->size() == count
                                         : !list->empty() && list->size() <= most_numbers);
    if (!fits) {
        const std::string wanted =
            "a list of " +
            (count                    ? std::to_string(count) + " "
             : list && !list->empty() ? "at most " + std::to_string(most_numbers) + " "
                                      : "") +
            "numbers in [brackets]";
        fault(key,
              title_ + ' ' + key + " must be " + wanted +
                  (list ? ", but has " + std::to_string(list->size())
                        : ", but is " + as_written(*node)),
              "write " + wanted + ", each " + describe(quantity));
        return std::nullopt;
    }
    std::vector<double> values;
    for (const toml::node& element : *list)
        if (const auto value = read(element, title_ + ' ' + key, quantity, limits))
            values.push_back(*value);
    if (values.size() != list->size()) return std::nullopt;
    return values;
}

std::optional<std::vector<std::array<double, 2>>> TableReader::pairs(
    const std::string& key, const std::array<Quantity, 2>& quantities,
    const std::array<Limits, 2>& limits) {
    const toml::node* node = find(key);
    if (!node) return std::nullopt;
    const toml::array* list = node->as_array();
    bool good = list && !list->empty() && list->size() <= most_numbers;
    std::vector<std::array<double, 2>> out;
    for (std::size_t n = 0; good && n < list->size(); ++n) {
        const toml::array* pair = (*list)[n].as_array();
        good = pair && pair->size() == 2;
        if (!good) break;
        std::array<double, 2> values{};
        for (std::size_t k = 0; k < 2; ++k) {
            const auto value = read((*pair)[k], title_ + ' ' + key, quantities[k], limits[k]);
            if (!value) return std::nullopt;
            values[k] = *value;
        }
        out.push_back(values);
    }
    if (good) return out;
    fault(key, title_ + ' ' + key + " must be a list of pairs in [brackets]",
          "write for example [[\"20 Hz\", \"6 dB\"], [\"80 Hz\", \"0 dB\"]]");
    return std::nullopt;
}

TableReader TableReader::required_table(const std::string& key, const std::string& begin) {
    if (!has(key))
        faults_->add(1, "the file has no [" + key + "] table", "add [" + key + "] with " + begin);
    return table(key, '[' + key + ']');
}

TableReader TableReader::table(const std::string& key, const std::string& title) {
    const toml::node* node = find(key);
    if (node && !node->is_table())
        fault(key, title + " must be a table, but is " + as_written(*node),
              "begin it with " + title);
    const bool good = node && node->is_table();
    return {good ? node->as_table() : nullptr, title, node ? line_of(*node) : line_, *faults_};
}

std::vector<TableReader> TableReader::tables(const std::string& key) {
    std::vector<TableReader> all;
    const toml::node* node = find(key);
    if (!node) return all;
    const std::string title = "[[" + key + "]]";
    const toml::array* list = node->as_array();
    if (!list)
        fault(key, title + " must be written with two brackets, for there may be several of them",
              "write " + title);
    else if (list->empty())
        fault(key, title + " is an empty list",
              "write " + title + " with its keys, or leave it out");
    else if (list->size() > most_tables)
        fault(key, title + " stands there " + std::to_string(list->size()) + " times",
              "write at most " + std::to_string(most_tables));
    else
        for (const toml::node& element : *list) {
            if (element.is_table())
                all.emplace_back(element.as_table(), title, line_of(element), *faults_);
            else
                faults_->add(line_of(element), title + " holds " + as_written(element),
                             "write each as a table under its own " + title);
        }
    return all;
}

void TableReader::close() {
    if (!table_) return;
    for (auto&& [key, value] : *table_) {
        const std::string name(key.str());
        if (std::find(known_.begin(), known_.end(), name) != known_.end()) continue;
        std::string mend;
        const std::string nearest = nearest_word(name, known_);
        if (!nearest.empty()) {
            mend = "did you mean " + nearest + '?';
        } else {
            for (const std::string& k : known_) mend += (mend.empty() ? "known here: " : ", ") + k;
        }
        const int at = static_cast<int>(key.source().begin.line);
        faults_->add(at > 0 ? at : line_of(value),
                     title_ + " knows no " + (value.is_table() ? "table " : "key ") + name, mend);
    }
}

}  // namespace boxroom
