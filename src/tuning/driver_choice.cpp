#include "tuning/driver_choice.hpp"

#include <algorithm>

#include "base/error.hpp"
#include "base/number.hpp"
#include "placement/decision.hpp"

namespace boxroom {
namespace {

DriverRow row_of(const Scenario& scenario, const DriverChoice& choice, Timings& timings) {
    DriverRow row;
    row.name = choice.name, row.price = choice.price;
    try {
        Scenario with = scenario;
        take_driver(choice.name, with);
        const Plan plan =
            make_plan(with, complete_driver(choice.sheet, with.acoustics.air), timings);
        row.box = plan.boxes[plan.build];
        row.reach_hz = plan.spot.criteria.reach_hz;
    } catch (const Error& error) {
        row.trouble = error.faults().front().what;
    }
    return row;
}

/// Why that one: what was weighed, and how the next best compares.
std::string reason(const Scenario& scenario, const DriverTable& table) {
    const DriverRow& best = table.rows[table.chosen];
    const Target& target = scenario.judgement.target;
    const std::string litres = number(best.box.volume * 1e3, best.box.volume < 0.01 ? 1 : 0);
    if (target.level && !best.box.limited_by.empty() && best.box.loudest_db < *target.level)
        return best.name + " comes nearest to the " + number(*target.level, 0) + " dB asked.";
    const std::string what = scenario.design.equaliser_available.value_or(false)
                                 ? (target.level ? "play the level asked" : "play as loud")
                                 : "are as flat, within " + number(target.indifference, 1) + " dB";
    return best.name + " has the smallest box, " + litres + " L, of the drivers that " + what + ".";
}

}  // namespace

DriverTable compare_drivers(const Scenario& scenario, Timings& timings) {
    DriverTable table;
    if (scenario.design.drivers.size() < 2 || !scenario.design.name.empty()) return table;
    for (const DriverChoice& choice : scenario.design.drivers)
        table.rows.push_back(row_of(scenario, choice, timings));
    std::vector<BoxChance> chances;
    bool known = true;
    for (const DriverRow& row : table.rows) {
        chances.push_back({row.box.volume, row.box.qtc, row.box.in_room_balance_db,
                           row.box.loudest_db, row.trouble.empty()});
        known = known && (!row.trouble.empty() || !row.box.limited_by.empty());
    }
    const Target& target = scenario.judgement.target;
    table.chosen =
        box_to_build(chances, {target.indifference, target.level,
                               scenario.design.equaliser_available.value_or(false), known});
    if (table.chosen < 0)
        throw Error("[[driver]]", "no driver can be used here: " + table.rows.front().trouble,
                    "loosen what is asked of boxes and spots, or take other drivers");
    table.why = reason(scenario, table);
    return table;
}

void take_driver(const std::string& name, Scenario& scenario) {
    for (const DriverChoice& choice : scenario.design.drivers)
        if (choice.name == name)
            scenario.design.driver = choice.sheet, scenario.design.name = choice.name;
}

}  // namespace boxroom
