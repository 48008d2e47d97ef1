#include "room_file/equaliser_reader.hpp"

#include "tuning/biquad.hpp"

namespace boxroom {
namespace {

EqFilter read_filter(TableReader& table) {
    EqFilter filter;
    const std::string word = table.text("type").value_or("peaking");
    const auto kind = filter_named(word);
    if (!kind)
        table.fault("type", "[equaliser] type is \"" + word + '"',
                    "write \"peaking\", \"low shelf\" or \"high shelf\"");
    filter.kind = kind.value_or(EqFilter::Kind::peaking);
    filter.frequency = table.required("frequency", Quantity::frequency, audible).value;
    filter.gain_db =
        table.required("gain", Quantity::level, {-40, 20, "between -40 dB and 20 dB"}).value;
    filter.q = table.required("q", Quantity::plain, {0.1, 30, "between 0.1 and 30"}).value;
    table.close();
    return filter;
}

}  // namespace

void read_equaliser(TableReader& file, Scenario& scenario) {
    TableReader table = file.table("equaliser", "[equaliser]");
    scenario.design.equaliser_available = table.yes_or_no("available");
    const toml::node* filters = table.find("filters");  // an empty list is a flat equaliser
    if (filters && !(filters->is_array() && filters->as_array()->empty()))
        for (TableReader& one : table.tables("filters"))
            scenario.placed.filters.push_back(read_filter(one));
    table.close();
    if (scenario.design.equaliser_available == false && !scenario.placed.filters.empty())
        table.fault("available", "[equaliser] is not available, and yet has filters",
                    "write available = true, or take the filters out");
}

}  // namespace boxroom
