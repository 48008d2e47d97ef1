// listen, map, rank: the subs in the room.
#include <fmt/format.h>

#include "answers/criteria_output.hpp"
#include "answers/listen_answer.hpp"
#include "answers/room_days.hpp"
#include "app/drawing.hpp"
#include "app/floor_pictures.hpp"
#include "app/recording_output.hpp"
#include "app/set_files.hpp"
#include "files/crossing_tables.hpp"
#include "files/results_file.hpp"
#include "files/tables.hpp"
#include "placement/floor_need.hpp"
#include "placement/plane_map.hpp"
#include "room_file/read_context.hpp"

namespace boxroom {
namespace {

nlohmann::ordered_json spot_json(const RankedSpot& spot) {
    nlohmann::ordered_json json = {{"rank", spot.rank}};
    json["positions_m"] = nlohmann::ordered_json::array();
    for (const Point& p : spot.positions) json["positions_m"].push_back({p.x, p.y, p.z});
    json["facing"] = facing_name(spot.facing);
    json.update(criteria_json(spot.criteria, true));
    return json;
}

std::string spot_line(const RankedSpot& spot, Units units) {
    return fmt::format("{:>4}  {:>10}  {:>10}  {:<6}{}\n", spot.rank,
                       format_length(spot.footprint.x, units),
                       format_length(spot.footprint.y, units), facing_name(spot.facing),
                       criteria_cells(spot.criteria));
}

std::string spot_heading() {
    return fmt::format("{:>4}  {:>10}  {:>10}  {:<6}{}\n{:36}{}\n", "rank", "from left",
                       "from front", "facing", criteria_names(), "", criteria_units());
}

double map_frequency(const std::string& text) {
    const double frequency = parse_quantity(text, Quantity::frequency);
    if (frequency < audible.low || frequency > audible.high)
        throw Error("--frequency " + text, "there is no map of the level there",
                    "write a frequency " + audible.wanted);
    return frequency;
}

}  // namespace

Answer run_listen(const Request& request) {
    Session session(request);
    session.results.expect({"listen.h5", "listen.csv"});
    const auto recorded = heard_recordings(session, session.scenario.acoustics.frequency);
    const HeardFile heard = hear_file(session);
    const double start = seconds_now();
    session.results.write("listen.h5", listening_hdf5(heard.result, session.provenance(),
                                                      heard.crossing ? &*heard.crossing : nullptr));
    session.results.write("listen.csv", curves_csv(heard.result));
    if (heard.crossing)
        session.results.write("crossover.csv", crossing_csv(*heard.crossing, heard.result.seats));
    session.timings["write"] = seconds_now() - start;
    Answer answer = listen_answer(session, heard);
    write_recordings(answer, session, beside_predictions(session, heard.box, recorded));
    answer.text += "Results in " + session.folder().string() + "\n";
    session.finish(answer);
    return answer;
}

Answer run_map(const Request& request) {
    Session session(request);
    const DrawingAhead ahead;
    session.results.expect({"spread_by_spot.png", "spread_by_spot.vti"});
    if (request.frequency)
        session.scenario.wanted.map_frequency = map_frequency(*request.frequency);
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    require_memory_for_floor(session.scenario, box, FloorSearch::one_box, 1e9 * request.memory);
    take_worse_day(session, box);
    warn_of_open_days(session);
    session.say("solving the room", 0.1);
    const Ranking ranking = rank_spots(session.scenario, session.driver, box, session.timings);
    std::vector<FloorMap> maps{ranking.spread_map};
    if (session.scenario.placed.subs.empty()) {
        session.warnings.push_back("no [[sub]] is placed, so there is no map of the level");
    } else {
        const double start = seconds_now();
        for (FloorMap& map : listening_plane_maps(session.scenario, session.driver, box))
            maps.push_back(std::move(map));
        session.timings["solve"] += seconds_now() - start;
    }
    FloorPictures(maps, request.units).write(session);
    Answer answer;
    answer.json["maps"] = nlohmann::ordered_json::array();
    for (const FloorMap& map : maps) {
        const auto picture = (session.folder() / (map.name + ".png")).string();
        answer.json["maps"].push_back({{"name", map.name}, {"title", map.title}, {"png", picture}});
        answer.text += map.title + ": " + picture + "\n";
    }
    session.finish(answer);
    return answer;
}

Answer run_rank(const Request& request) {
    Session session(request);
    session.results.expect({"rank.h5", "rank.csv"});
    if (request.subs > 0 || !session.scenario.wanted.sub_counts.empty()) warn_of_open_days(session);
    if (request.subs > 0) return run_rank_sets(session, {request.subs});
    if (!session.scenario.wanted.sub_counts.empty())
        return run_rank_sets(session, session.scenario.wanted.sub_counts);
    const DrawingAhead ahead;  // of sets there are no maps
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    require_memory_for_floor(session.scenario, box, FloorSearch::one_box, 1e9 * request.memory);
    warn_of_open_days(session);
    session.say("solving the room and judging the spots", 0.1);
    const Ranking ranking = rank_spots(session.scenario, session.driver, box, session.timings);
    FloorPictures({ranking.spread_map, ranking.score_map}, request.units).write(session);
    const double start = seconds_now();
    session.results.write("rank.h5", ranking_hdf5(ranking, session.provenance()));
    session.results.write("rank.csv", spots_csv(ranking));
    session.timings["write"] += seconds_now() - start;

    Answer answer;
    answer.json["box"] = {{"volume_l", box.volume * 1e3}, {"qtc", box.qtc}};
    add_measured_spots(answer, session);
    answer.json["spots"] = nlohmann::ordered_json::array();
    for (const RankedSpot& spot : ranking.spots) answer.json["spots"].push_back(spot_json(spot));
    answer.text += fmt::format("box {} (Qtc {:.2f}), {} spots; centre of the box:\n{}",
                               format_volume(box.volume, request.units), box.qtc,
                               ranking.spots.size(), spot_heading());
    for (std::size_t n = 0; n < ranking.spots.size() && n < 10; ++n)
        answer.text += spot_line(ranking.spots[n], request.units);
    answer.text += ranking.reason + "\nResults in " + session.folder().string() + "\n";
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
