#include "survey/distribution_reader.hpp"

#include <cmath>

namespace boxroom {
namespace {

const char* const ways =
    "write a number, { uniform = [low, high] }, { normal = [mean, deviation] }, "
    "{ log_normal = [median, factor] } or { choice = [...], weights = [...] }";
constexpr double least_share = 1e-3;  // of a distribution that its bounds may leave

/// Its weights: as given, or all alike.
std::vector<double> read_weights(TableReader& table, std::size_t count) {
    std::vector<double> weights(count, 1);
    if (!table.has("weights")) return weights;
    if (count == 0) return weights;  // what is weighed has its own fault
    const auto given = table.numbers("weights", Quantity::plain, count, {0, 1e6, "0 or more"});
    if (!given) return weights;
    double sum = 0;
    for (const double weight : *given) sum += weight;
    if (sum > 0) return *given;
    table.fault("weights", table.title() + " weights are all 0", "give one of them more than 0");
    return weights;
}

void read_choice(TableReader& table, Quantity quantity, const Limits& limits, Distribution& out) {
    out.kind = Distribution::Kind::choice;
    if (const auto values = table.numbers("choice", quantity, 0, limits)) out.values = *values;
    out.weights = read_weights(table, out.values.size());
    if (out.values.empty()) out.values = {limits.low}, out.weights = {1};
}

void read_uniform(TableReader& table, Quantity quantity, const Limits& limits, Distribution& out) {
    out.kind = Distribution::Kind::uniform;
    const auto ends = table.numbers("uniform", quantity, 2, limits);
    out.first = ends ? (*ends)[0] : limits.low, out.second = ends ? (*ends)[1] : limits.low;
    if (out.first > out.second)
        table.fault("uniform", table.title() + " is upside down", "write the smaller end first");
}

/// Where a normal or log-normal one is cut.
void read_bounds(TableReader& table, Quantity quantity, const Limits& limits, Distribution& out) {
    out.low = limits.low, out.high = limits.high;
    if (const auto between = table.numbers("between", quantity, 2, limits)) {
        out.low = (*between)[0], out.high = (*between)[1];
        if (!(out.low < out.high)) {
            table.fault("between", table.title() + " between is upside down",
                        "write the smaller end first");
            return;
        }
    }
    if (!(out.share_within() >= least_share))
        table.fault(out.kind == Distribution::Kind::normal ? "normal" : "log_normal",
                    table.title() + " hardly ever lies within its bounds",
                    "move its middle, or widen `between`");
}

/// The two numbers of a normal or log-normal one.
bool read_pair(TableReader& table, const char* key, Quantity quantity, const Limits& limits,
               Distribution& out) {
    const bool normal = out.kind == Distribution::Kind::normal;
    const toml::node* node = table.find(key);
    const toml::array* list = node ? node->as_array() : nullptr;
    if (!list || list->size() != 2) {
        table.fault(key, table.title() + ' ' + key + " must be a list of two numbers",
                    normal ? "write { normal = [mean, deviation] }"
                           : "write { log_normal = [median, factor] }");
        return false;
    }
    const auto middle = table.read((*list)[0], table.title(), quantity, limits);
    const auto deviation = normal ? table.read((*list)[1], table.title() + " deviation", quantity,
                                               {1e-12, 1e9, "above 0"})
                                  : table.read((*list)[1], table.title() + " factor",
                                               Quantity::plain, {1.0001, 100, "a factor above 1"});
    if (!middle || !deviation) return false;
    out.first = *middle, out.second = *deviation;
    if (normal || out.first > 0) return true;
    table.fault(key, table.title() + " has a median of 0", "write a median above 0");
    return false;
}

void read_spread(TableReader& table, Quantity quantity, const Limits& limits, Distribution& out) {
    int kinds = 0;
    for (const char* key : {"uniform", "normal", "log_normal", "choice"}) kinds += table.has(key);
    if (kinds != 1) {
        table.fault("", table.title() + " must be spread in one way", ways);
    } else if (table.has("choice")) {
        read_choice(table, quantity, limits, out);
    } else if (table.has("uniform")) {
        read_uniform(table, quantity, limits, out);
    } else {
        const bool normal = table.has("normal");
        out.kind = normal ? Distribution::Kind::normal : Distribution::Kind::log_normal;
        if (read_pair(table, normal ? "normal" : "log_normal", quantity, limits, out))
            read_bounds(table, quantity, limits, out);
    }
    for (const char* key : {"between", "weights"})
        if (table.has(key) && (table.has("uniform") || table.has("choice") == (*key == 'b')))
            table.fault(key, table.title() + " has " + key + " where it means nothing",
                        "leave it out");
}

}  // namespace

Distribution read_distribution(TableReader& table, const std::string& key, Quantity quantity,
                               const Limits& limits, std::optional<double> fallback) {
    Distribution out;
    out.first = fallback.value_or(limits.low);
    const toml::node* node = table.find(key);
    if (node && node->is_table()) {
        TableReader spread(node->as_table(), table.title() + ' ' + key, line_of(*node),
                           table.faults());
        read_spread(spread, quantity, limits, out);
        spread.close();
        return out;
    }
    out.first = fallback || node ? table.number(key, quantity, limits, out.first).value
                                 : table.required(key, quantity, limits).value;
    return out;
}

Distribution read_counts(TableReader& table, const std::string& key, int low, int high,
                         int fallback) {
    const Limits limits{
        double(low), double(high),
        "a whole number from " + std::to_string(low) + " to " + std::to_string(high)};
    const Distribution out = read_distribution(table, key, Quantity::plain, limits, fallback);
    const bool spread =
        out.kind != Distribution::Kind::fixed && out.kind != Distribution::Kind::choice;
    bool whole = out.first == std::floor(out.first);
    for (const double value : out.values) whole = whole && value == std::floor(value);
    if (spread || !whole)
        table.fault(key, table.title() + ' ' + key + " must be whole numbers",
                    "write one, or { choice = [1, 2], weights = [3, 1] }");
    return out;
}

NamedChoice read_names(TableReader& table, const std::string& key) {
    FaultList& faults = table.faults();
    NamedChoice out;
    const toml::node* node = table.find(key);
    if (!node) return out;
    const auto take = [&](const toml::array& list) {
        for (const toml::node& element : list) {
            if (const auto name = element.value_exact<std::string>())
                out.names.push_back(visible_text(*name));
            else
                faults.add(line_of(element),
                           table.title() + ' ' + key + " lists " + as_written(element) +
                               ", which is no name",
                           "put names in quotes");
        }
        out.weights.assign(out.names.size(), 1);
    };
    if (const auto name = node->value_exact<std::string>()) {
        out.names = {visible_text(*name)}, out.weights = {1};
    } else if (const toml::array* list = node->as_array()) {
        take(*list);
    } else if (node->is_table()) {
        TableReader spread(node->as_table(), table.title() + ' ' + key, line_of(*node), faults);
        const toml::node* choice = spread.find("choice");
        if (choice && choice->is_array()) take(*choice->as_array());
        out.weights = read_weights(spread, out.names.size());
        spread.close();
    }
    if (out.names.empty())
        table.fault(key, table.title() + ' ' + key + " names nothing",
                    "write \"a name\", or { choice = [\"one\", \"other\"], weights = [2, 1] }");
    return out;
}

}  // namespace boxroom
