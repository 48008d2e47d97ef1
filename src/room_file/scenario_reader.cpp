#include "room_file/scenario_reader.hpp"

#include "placement/analysis_grid.hpp"
#include "room_file/box_reader.hpp"
#include "room_file/build_reader.hpp"
#include "room_file/crossover_reader.hpp"
#include "room_file/driver_reader.hpp"
#include "room_file/equaliser_reader.hpp"
#include "room_file/judgement_reader.hpp"
#include "room_file/place_reader.hpp"
#include "room_file/recording_reader.hpp"
#include "room_file/room_reader.hpp"
#include "room_file/search_reader.hpp"

namespace boxroom {
namespace {

void read_design(TableReader& file, ReadContext& context, Scenario& s) {
    read_drivers(file, context, s.design);
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
    s.placed.subs = read_subs(file, context, s.placed.places);
    s.placed.crossover = read_crossover(file);
    s.placed.mains = read_mains(file, context);
    read_recordings(file, context, s.seats, s.placed.subs);  // kept by recordings_of()
    read_equaliser(file, s);
    s.wanted.keep_outs = read.keep_outs, s.wanted.doors = read.doors;
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
    stand_boxes(s);
    return s;
}

}  // namespace boxroom
