#include "room_file/scenario_reader.hpp"

#include <cmath>
#include <numbers>
#include <sstream>

#include "placement/analysis_grid.hpp"
#include "room_file/box_reader.hpp"
#include "room_file/build_reader.hpp"
#include "room_file/crossover_reader.hpp"
#include "room_file/driver_reader.hpp"
#include "room_file/judgement_reader.hpp"
#include "room_file/place_reader.hpp"
#include "room_file/room_reader.hpp"
#include "room_file/search_reader.hpp"

namespace boxroom {
namespace {

/// Mean random-incidence absorption of the walls at 63 Hz by area.
double mean_absorption(const Room& r, const Air& air) {
    double absorbed = 0, area = 0;
    const auto add = [&](const Wall& wall, double size) {
        const auto beta = wall.admittance(2 * std::numbers::pi * 63, air);
        absorbed += size * random_incidence_absorption(beta);
        area += size;
    };
    const bool planned = !r.plan.outline.empty();
    const double floor = planned ? outline_area(r.plan.outline) : r.width * r.length;
    for (int w = planned ? 4 : 0; w < 6; ++w)
        add(r.walls[w], w < 2 ? r.length * r.height : w < 4 ? r.width * r.height : floor);
    for (std::size_t i = 0; i < r.plan.edges.size(); ++i) {
        const Point &a = r.plan.outline[i], &b = r.plan.outline[(i + 1) % r.plan.outline.size()];
        add(r.plan.edges[i].wall, std::hypot(b.x - a.x, b.y - a.y) * r.height);
    }
    return absorbed / area;
}

/// Rooms that no builder has.
void warn_of_odd_rooms(Scenario& s, const std::string& where) {
    const double mean = mean_absorption(s.acoustics.room, s.acoustics.air);
    if (mean >= 0.01 && mean <= 0.5) return;
    std::ostringstream text;
    text.precision(2);
    text << where << ": the walls absorb " << mean << " on average at 63 Hz: "
         << (mean < 0.01 ? "too live to be true, for even masonry rooms leak more through doors "
                           "and windows"
                         : "too dead to be true, for ordinary walls absorb far less bass");
    s.warnings.push_back(text.str());
}

void read_design(TableReader& file, ReadContext& context, Scenario& s) {
    s.design.driver = read_driver(file, context);
    s.design.amplifier = read_amplifier(file);
    read_box(file, context, s.design);
    s.wanted.spots = read_spots(file);
    read_build(file, context, s.wanted.spots.tallest, s.design);
}

void read_judgement(TableReader& file, const ReadContext& context, Scenario& s) {
    s.judgement.weights = read_score(file, context);
    s.judgement.uncertainty = read_robustness(file);
    const Analysis analysis = read_analysis(file);
    s.acoustics.frequency = analysis.frequency;
    s.acoustics.resolved = analysis.resolved;
    s.placed.cone_load = analysis.cone_load;
    s.judgement.target = read_target(file, analysis, context);
}

}  // namespace

Scenario read_scenario(const toml::table& root, const std::string& name) {
    FaultList faults(name);
    TableReader file(&root, "the file", 1, faults);
    Scenario s;
    ReadRoom read;
    ReadContext context{faults,    s.warnings,      s.acoustics.air,
                        read.room, s.design.driver, s.design.amplifier};
    s.title = file.text("title").value_or("");
    s.acoustics.air = read_air(file);
    read_room(file, context, read);
    read_design(file, context, s);
    s.seats = read_seats(file, context);
    s.placed.subs = read_subs(file, context);
    s.placed.crossover = read_crossover(file);
    s.placed.mains = read_mains(file, context);
    s.wanted.keep_outs = read.keep_outs;
    read_keep_outs(file, context, s.wanted.keep_outs);
    read_search(file, s.wanted);
    s.wanted.steps = read_settings(file);
    TableReader map = file.table("map", "[map]");
    s.wanted.map_frequency = map.number("frequency", Quantity::frequency, audible, 40).value;
    map.close();
    read_judgement(file, context, s);
    file.close();
    faults.throw_if_any();
    s.acoustics.room = read.room;
    if (s.acoustics.resolved)
        s.acoustics.frequency = analysis_grid(
            s.acoustics.room, s.acoustics.air,
            {s.acoustics.frequency.front(), s.acoustics.frequency.back()}, s.judgement.target.band);
    s.wall_keys = read.wall_keys;
    warn_of_odd_rooms(s, faults.where(read.walls_line));
    return s;
}

}  // namespace boxroom
