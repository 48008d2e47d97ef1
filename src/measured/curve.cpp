#include "measured/curve.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <numbers>
#include <numeric>
#include <optional>
#include <string_view>
#include <system_error>

#include "base/error.hpp"

namespace boxroom {
namespace {

constexpr std::size_t largest_file = 20'000'000;
constexpr std::size_t most_faults = 20;

std::string_view trimmed(std::string_view text) {
    const auto is_margin = [](char c) { return c == ' ' || c == '\r' || c == '\t' || c == '"'; };
    while (!text.empty() && is_margin(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_margin(text.back())) text.remove_suffix(1);
    return text;
}

std::vector<std::string_view> fields_of(std::string_view line, char separator) {
    std::vector<std::string_view> fields;
    for (std::size_t start = 0; start <= line.size();) {
        const std::size_t end = std::min(line.find(separator, start), line.size());
        fields.push_back(trimmed(line.substr(start, end - start)));
        start = end + 1;
    }
    return fields;
}

/// A number, with a decimal comma where no comma parts the fields.
std::optional<double> number_in(std::string_view field, char separator) {
    std::string text(field);
    if (separator != ',') std::replace(text.begin(), text.end(), ',', '.');
    const char* start = text.data() + (text.starts_with('+') ? 1 : 0);
    double value = 0;
    const auto [end, trouble] = std::from_chars(start, text.data() + text.size(), value);
    if (trouble != std::errc() || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

/// Where the columns stand.
struct Header {
    char separator = ',';
    std::size_t frequency = 0, value = 0, count = 0;
    std::optional<std::size_t> phase;
};

std::optional<Header> header_in(std::string_view line, const std::string& column) {
    Header header;
    for (const char separator : {';', '\t'})
        if (line.find(separator) != line.npos) header.separator = separator;
    const auto names = fields_of(line, header.separator);
    header.count = names.size();
    const auto place = [&](std::string_view name) -> std::optional<std::size_t> {
        const auto found = std::find(names.begin(), names.end(), name);
        if (found == names.end()) return std::nullopt;
        return static_cast<std::size_t>(found - names.begin());
    };
    const auto frequency = place("frequency_hz"), value = place(column);
    if (!frequency || !value) return std::nullopt;
    header.frequency = *frequency, header.value = *value, header.phase = place("phase_deg");
    return header;
}

struct Row {
    double frequency, value, phase;
};

/// Reads line after line and keeps what is wrong.
class CurveReader {
  public:
    CurveReader(const std::string& name, const CurveColumn& column)
        : name_(name), column_(column) {}

    void line(std::string_view text, int number) {
        text = trimmed(text);
        if (text.empty() || text.front() == '#' || faults_.size() >= most_faults) return;
        if (!header_) {
            header_ = header_in(text, column_.name);
            if (!header_)
                throw Error(where(number), "the first line is not the header of this table",
                            "begin with frequency_hz," + column_.name + " or frequency_hz," +
                                column_.name + ",phase_deg");
            return;
        }
        row(text, number);
    }

    Curve take() {
        if (!header_)
            throw Error(name_ + ":1", "the file is empty",
                        "it shall begin with frequency_hz," + column_.name);
        if (!faults_.empty()) throw Error(faults_);
        if (rows_.empty())
            throw Error(name_, "there is no row of numbers below the header", "export it again");
        if (passed_over_ > 0)
            notes_.push_back(std::to_string(passed_over_) +
                             " rows with an empty field were left out");
        return curve();
    }

  private:
    std::string where(int number) const { return name_ + ':' + std::to_string(number); }
    void fault(int number, std::string what, std::string mend) {
        faults_.push_back({where(number), std::move(what), std::move(mend)});
    }

    void row(std::string_view text, int number) {
        const auto fields = fields_of(text, header_->separator);
        if (fields.size() != header_->count)
            return fault(number,
                         "this row has " + std::to_string(fields.size()) +
                             " fields, the header has " + std::to_string(header_->count),
                         header_->separator == ',' && fields.size() > header_->count
                             ? "write decimal points, 12.5, or part the fields by semicolons"
                             : "give each row all fields");
        const auto empty = [&](std::size_t i) { return fields[i].empty(); };
        if (empty(header_->frequency) || empty(header_->value) ||
            (header_->phase && empty(*header_->phase))) {
            ++passed_over_;
            return;
        }
        const auto at = [&](std::size_t i) { return number_in(fields[i], header_->separator); };
        const auto frequency = at(header_->frequency), value = at(header_->value);
        const auto phase = header_->phase ? at(*header_->phase) : std::optional<double>(0);
        if (!frequency || !value || !phase)
            return fault(number, "this row has a field that is no number",
                         "write plain numbers such as 31.5");
        if (!(*frequency > 0 && *frequency <= 1e6))
            return fault(number, "a frequency must lie above 0 and at most at 1e6 Hz",
                         "give frequencies in Hz");
        if (!(*value >= column_.low && *value <= column_.high))
            return fault(number, column_.name + " is outside what can be", "check this row's unit");
        if (std::abs(*phase) > 1e6)
            return fault(number, "phase_deg is outside what can be", "give the phase in degrees");
        rows_.push_back({*frequency, *value, *phase * std::numbers::pi / 180});
    }

    Curve curve() {
        if (!std::is_sorted(rows_.begin(), rows_.end(), by_frequency)) {
            notes_.push_back("the rows were not in order of frequency and have been sorted");
            std::stable_sort(rows_.begin(), rows_.end(), by_frequency);
        }
        Curve curve;
        std::size_t repeated = 0;
        for (std::size_t i = 0; i < rows_.size();) {
            std::size_t end = i;
            double value = 0, x = 0, y = 0;
            for (; end < rows_.size() && rows_[end].frequency == rows_[i].frequency; ++end) {
                value += rows_[end].value;
                x += std::cos(rows_[end].phase), y += std::sin(rows_[end].phase);
            }
            repeated += end - i - 1;
            curve.frequency.push_back(rows_[i].frequency);
            curve.value.push_back(value / static_cast<double>(end - i));
            if (header_->phase) curve.phase.push_back(std::atan2(y, x));
            i = end;
        }
        if (repeated > 0)
            notes_.push_back(std::to_string(repeated) +
                             " rows repeat a frequency; such rows have been averaged");
        curve.notes = notes_;
        return curve;
    }
    static bool by_frequency(const Row& a, const Row& b) { return a.frequency < b.frequency; }

    const std::string& name_;
    const CurveColumn& column_;
    std::optional<Header> header_;
    std::vector<Row> rows_;
    std::vector<Fault> faults_;
    std::vector<std::string> notes_;
    std::size_t passed_over_ = 0;
};

}  // namespace

Curve parse_curve(const std::string& text, const std::string& name, const CurveColumn& column) {
    std::string_view rest = text;
    if (rest.starts_with("\xEF\xBB\xBF")) rest.remove_prefix(3);
    CurveReader reader(name, column);
    for (int number = 1; !rest.empty(); ++number) {
        const std::size_t end = std::min(rest.find('\n'), rest.size());
        reader.line(rest.substr(0, end), number);
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return reader.take();
}

std::string read_table(const std::filesystem::path& path) {
    std::error_code trouble;
    const auto kind = std::filesystem::status(path, trouble).type();
    if (kind == std::filesystem::file_type::directory)
        throw Error(path.string(), "this is a folder, not a table of numbers",
                    "name the file in it");
    if (kind != std::filesystem::file_type::regular && std::filesystem::exists(path, trouble))
        throw Error(path.string(), "this is a device or a pipe, not a table of numbers",
                    "write the table to a file and name that");
    std::ifstream file(path, std::ios::binary);
    if (!file)
        throw Error(path.string(), "the file is missing or cannot be read", "check the name");
    if (std::filesystem::file_size(path, trouble) > largest_file && !trouble)
        throw Error(path.string(), "the table is larger than 20 MB", "export fewer points");
    std::string text(largest_file, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(file.gcount()));
    return text;
}

Curve read_curve(const std::filesystem::path& path, const CurveColumn& column) {
    return parse_curve(read_table(path), path.string(), column);
}

}  // namespace boxroom
