// The criteria in JSON and on the terminal: loops over criterion_table.
#include "answers/criteria_output.hpp"

#include <fmt/format.h>

#include <cmath>

#include <algorithm>
#include <string_view>

namespace boxroom {
namespace {

bool has_unit(const Criterion& c) {
    return std::string_view(c.unit) != "1";
}

/// One right-aligned column a criterion of a ranking.
template <typename Cell>
std::string columns(Cell cell) {
    std::string text;
    for (const Criterion& c : criterion_table)
        if (on_pages(c, true)) {
            const auto width = std::max<std::size_t>(std::string_view(c.label).size(), 6) + 2;
            text += fmt::format("{:>{}}", cell(c), width);
        }
    return text;
}

std::string rounded(const Criterion& c, const Criteria& criteria) {
    const double value = criteria.*c.member;
    return std::isnan(value) ? "-" : fmt::format("{:.{}f}", value, c.decimals);
}

}  // namespace

nlohmann::ordered_json criteria_json(const Criteria& criteria, bool ranking) {
    nlohmann::ordered_json json = nlohmann::ordered_json::object();
    for (const Criterion& c : criterion_table)
        if (ranking || c.shown != Shown::in_rankings) json[c.key] = criteria.*c.member;
    return json;
}

std::string criteria_names() {
    return columns([](const Criterion& c) { return std::string(c.label); });
}

std::string criteria_units() {
    return columns([](const Criterion& c) { return has_unit(c) ? c.unit : std::string(); });
}

std::string criteria_cells(const Criteria& criteria) {
    return columns([&](const Criterion& c) { return rounded(c, criteria); });
}

std::string criteria_lines(const Criteria& criteria, const std::string& reference) {
    std::string text;
    for (const Criterion& c : criterion_table)
        if (on_pages(c, false))
            text += fmt::format("{:<12}{} {}{}\n", c.label, rounded(c, criteria), c.unit,
                                c.member == &Criteria::level_db ? reference : "");
    return text;
}

std::string criteria_words(const Criteria& criteria) {
    std::string text;
    for (const Criterion& c : criterion_table)
        if (on_pages(c, false))
            text += fmt::format("{}{} {} {}", text.empty() ? "" : ", ", c.label,
                                rounded(c, criteria), c.unit);
    return text;
}

}  // namespace boxroom
