// What the window is handed: the solver, the box and the ranking behind plain functions.
#include "app/view_model.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/element_hearing.hpp"
#include "app/grid_hearing.hpp"
#include "app/view_fields.hpp"
#include "app/view_scene.hpp"
#include "base/error.hpp"
#include "placement/decay_words.hpp"
#include "placement/spot_ranking.hpp"
#include "placement/spots.hpp"
#include "placement/standing.hpp"
#include "room_file/room_file_editor.hpp"
#include "solvers/modal.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

BoxSize box_size(const Scenario& s, const Driver& driver, double volume) {
    const ClosedBox box = closed_box(driver, volume, s.design.filling);
    const Sides outer = enclosure(volume, s.design.enclosure);
    const double inner =
        std::min({outer.width, outer.depth, outer.height}) - 2 * s.design.enclosure.thickness;
    const double cone = driver.sd ? std::sqrt(*driver.sd / std::numbers::pi) : 0.35 * inner;
    return {volume, box.qtc, box.fc, outer, s.design.enclosure.feet, cone};
}

/// The box of a sub, as the window moves it about.
StandingBox box_round(const Scenario& s, const PlacedSub& sub, const BoxPlace& place,
                      double volume) {
    const BoxStanding at = standing_of(s, sub, place, volume);
    return {sub, at.footprint, at.sides.width, at.sides.depth, at.facing};
}

/// The same sub, its box standing there and facing that way.
StandingBox stood(const Scenario& s, const StandingBox& box, Point footprint, Facing facing,
                  double volume) {
    StandingBox result = box;
    const Sides outer = turned(enclosure(volume, s.design.enclosure), facing);
    result.footprint = footprint;
    result.width = outer.width, result.depth = outer.depth;
    result.facing = facing;
    result.sub.at =
        acoustic_centre(footprint.x, footprint.y, outer, s.design.enclosure.feet, facing);
    return result;
}

std::vector<PlacedSub> subs_of(const Arrangement& arrangement) {
    std::vector<PlacedSub> subs;
    for (const StandingBox& box : arrangement.boxes) subs.push_back(box.sub);
    return subs;
}

/// Draft: to 0.001 dB, for the modal solver is quicker so.
std::optional<ByFrequency<Complex>> transfer(const Scenario& s, const std::vector<PlacedSub>& subs,
                                             bool draft, const RoomHearing* hearing) {
    if (hearing) return hearing->transfer(subs, s.seats);
    const std::vector<Point> from = places_of(subs);
    if (!draft) return transfer_to_seats(s, from);
    const auto z = modal_transfer_many(s.acoustics.room, s.acoustics.air, s.acoustics.frequency,
                                       from, places_of(s.seats));
    return ByFrequency<Complex>(z.frequencies, z.receivers, z.sources,
                                {z.value.begin(), z.value.end()});
}

/// `here` has the seats that are wanted.
RoomAnswer answer_for(const Scenario& here, const Driver& driver, const Arrangement& wanted,
                      bool draft, const RoomHearing* hearing) {
    RoomAnswer answer;
    answer.arrangement = wanted;
    const double start = seconds_now();
    try {
        answer.box = box_size(here, driver, wanted.volume);
        const ClosedBox box = closed_box(driver, wanted.volume, here.design.filling);
        const std::vector<PlacedSub> subs = subs_of(wanted);
        auto z = transfer(here, subs, draft, hearing);
        answer.has_levels = z.has_value();
        if (z)
            answer.heard = listen_through(
                here, driver, box, subs, std::move(*z),
                cone_impedance_in_window(here, driver, subs, here.acoustics.frequency, hearing));
        fill_fields(answer, here, driver, box, hearing);
    } catch (const Error& error) {
        answer.trouble = error.faults().front().what;
    }
    answer.seconds = seconds_now() - start;
    return answer;
}

/// What the window asks for beside.
Preparation prepared(const Scenario& scenario, RoomHearing& hearing, const Arrangement& wanted,
                     const std::function<void(const std::string&, double)>& say,
                     const std::function<bool()>& stop) {
    try {
        return hearing.prepare(wanted, plane_points(field_planes(scenario, wanted)), say, stop);
    } catch (const std::exception& failure) {
        return {false, failure.what()};
    }
}

/// The user's own text with what was moved. A volume that he left to the program stays so until
/// it is changed.
std::string rearranged_file(const Scenario& scenario, const Arrangement& now, double first_volume) {
    RoomFileEditor file(scenario.source_text);
    for (std::size_t i = 0; i < now.seats.size(); ++i) file.set_place("seat", i, now.seats[i].at);
    const std::size_t known = file.count("sub");
    for (std::size_t i = 0; i < now.boxes.size(); ++i) {
        const PlacedSub& sub = now.boxes[i].sub;
        const std::string box_at = "sub[" + std::to_string(i) + "].box_at";
        if (i >= known) {
            file.add_place("sub", sub.name, sub.at);
        } else if (file.has(box_at)) {
            file.set(box_at + "[0]", Quantity::length, now.boxes[i].footprint.x);
            file.set(box_at + "[1]", Quantity::length, now.boxes[i].footprint.y);
            file.set_word("sub[" + std::to_string(i) + "].facing",
                          facing_name(now.boxes[i].facing));
        } else {
            file.set_place("sub", i, sub.at);
        }
    }
    if (now.volume != first_volume) file.set("box.volume", Quantity::volume, now.volume);
    return file.text();
}

std::vector<StandingBox> ranked_places(const Scenario& scenario, const Driver& driver,
                                       const Arrangement& now) {
    Scenario here = scenario;
    here.seats = now.seats;
    // This runs beside the window, which says so itself.
    here.acoustics.solver.grid.progress = nullptr;
    here.acoustics.solver.on_grid = nullptr;
    Timings timings;
    std::vector<StandingBox> spots;
    const ClosedBox box = closed_box(driver, now.volume, scenario.design.filling);
    for (const RankedSpot& spot : rank_spots(here, driver, box, timings).spots)
        spots.push_back(
            stood(scenario, now.boxes.front(), spot.footprint, spot.facing, now.volume));
    return spots;
}

/// Where the file places no sub: one in the front left corner.
PlacedSub corner_sub(const Scenario& s, double volume) {
    const Facing facing =
        s.design.enclosure.facing == Facing::inward ? Facing::back : s.design.enclosure.facing;
    const Sides outer = turned(enclosure(volume, s.design.enclosure), facing);
    const Point corner{s.wanted.spots.gap + outer.width / 2, s.wanted.spots.gap + outer.depth / 2,
                       0};
    return stood(s, {{"sub", {}}, {}, 0, 0, facing}, corner, facing, volume).sub;
}

/// None where every frame can be solved.
std::shared_ptr<RoomHearing> hearing_of(const Scenario& scenario) {
    if (scenario.acoustics.solver.solver == RoomSolver::grid)
        return std::make_shared<GridHearing>(scenario);
    if (scenario.acoustics.room.is_rectangle()) return nullptr;
    return std::make_shared<ElementHearing>(scenario);
}

}  // namespace

RoomView make_room_view(const Scenario& scenario, const Driver& driver,
                        std::vector<std::string>& warnings) {
    RoomView view = room_scene(scenario);
    const std::shared_ptr<RoomHearing> hearing = hearing_of(scenario);
    if (hearing && scenario.placed.cone_load)
        warnings.push_back(
            "[analysis] cone_load is not counted in the window of this room, which is solved "
            "beside it; `listen` and `map` count it");
    if (scenario.acoustics.room.is_rectangle())
        for (const Mode& mode : room_modes(scenario.acoustics.room, scenario.acoustics.air,
                                           scenario.acoustics.frequency.back()))
            view.modes.push_back({mode.frequency, mode.order});

    view.decay = decay_note(plausible_decay(scenario.acoustics.room, scenario.acoustics.air));

    Arrangement& start = view.start;
    start.volume = chosen_box(scenario, driver, warnings).volume;
    start.frequency =
        *std::min_element(scenario.acoustics.frequency.begin(), scenario.acoustics.frequency.end(),
                          [&](double a, double b) {
                              return std::abs(std::log(a / scenario.wanted.map_frequency)) <
                                     std::abs(std::log(b / scenario.wanted.map_frequency));
                          });
    start.seats = scenario.seats;
    std::vector<PlacedSub> subs = scenario.placed.subs;
    if (subs.empty()) {
        subs.push_back(corner_sub(scenario, start.volume));
        view.note =
            "The file places no sub: one stands in the front left corner; n takes it to the "
            "best spot.";
    }
    for (std::size_t n = 0; n < subs.size(); ++n)
        start.boxes.push_back(box_round(scenario, subs[n], place_of(scenario, n), start.volume));

    // One copy for all frames of a drag.
    view.recompute = [here = scenario, &driver, hearing](const Arrangement& wanted,
                                                         bool draft) mutable {
        here.seats = wanted.seats;
        return answer_for(here, driver, wanted, draft, hearing.get());
    };
    if (hearing)
        view.prepare = [&scenario, hearing](const Arrangement& wanted, const auto& say,
                                            const auto& stop) {
            return prepared(scenario, *hearing, wanted, say, stop);
        };
    view.box_size = [&](double volume) { return box_size(scenario, driver, volume); };
    view.stand = [&](const StandingBox& box, Point footprint, double volume) {
        return stood(scenario, box, footprint, facing_at(scenario, footprint), volume);
    };
    view.rank = [&](const Arrangement& now) { return ranked_places(scenario, driver, now); };
    view.room_file = [&scenario, volume = start.volume](const Arrangement& now) {
        return rearranged_file(scenario, now, volume);
    };
    return view;
}

}  // namespace boxroom
