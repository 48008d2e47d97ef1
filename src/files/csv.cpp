#include "files/csv.hpp"

#include <fmt/format.h>

#include <cmath>

namespace boxroom {

void Csv::field(const std::string& text) {
    if (!row_start_) text_ += ',';
    row_start_ = false;
    if (text.find_first_of(",\"\r\n") == std::string::npos) {
        text_ += text;
        return;
    }
    text_ += '"';
    for (const char c : text) text_ += c == '"' ? "\"\"" : std::string(1, c);
    text_ += '"';
}

void Csv::number(double value) {
    field(std::isnan(value) ? "" : fmt::format("{:.6g}", value));
}

void Csv::end_row() {
    text_ += "\r\n";
    row_start_ = true;
}

}  // namespace boxroom
