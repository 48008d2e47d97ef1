// What the window is handed: the solver, the box and the ranking behind plain functions.
#include "app/view_model.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "io/room_file_editor.hpp"
#include "placement/listening.hpp"
#include "placement/spots.hpp"
#include "solvers/modal.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

std::array<double, 3> direction(Facing facing) {
    switch (facing) {
        case Facing::left:
            return {-1, 0, 0};
        case Facing::right:
            return {1, 0, 0};
        case Facing::front:
            return {0, -1, 0};
        case Facing::up:
            return {0, 0, 1};
        case Facing::down:
            return {0, 0, -1};
        default:
            return {0, 1, 0};
    }
}

/// The height of the plane: mean ear height, moved where a sub plays in that very plane.
double plane_height(const Scenario& s, const Arrangement& arrangement) {
    double height = 0, weight = 0;
    for (const Seat& seat : arrangement.seats)
        height += seat.weight * seat.at.z, weight += seat.weight;
    height = weight > 0 ? height / weight : s.room.height / 2;
    constexpr double least = 0.15;  // nearer, the point source drowns the picture
    const auto clear = [&](double z) {
        return std::all_of(arrangement.boxes.begin(), arrangement.boxes.end(),
                           [&](const auto& b) { return std::abs(b.sub.at.z - z) >= least; });
    };
    for (double step = 0; step < s.room.height; step += 0.05)
        for (double z : {height + step, height - step})
            if (z >= 0 && z <= s.room.height && clear(z)) return z;
    return height;
}

/// Pressure on the plane. By reciprocity the plane's points are the many sources and the subs the
/// few receivers, which is the shape `modal_transfer_many` is quick at.
FieldPlane field_plane(const Scenario& s, const Driver& driver, const ClosedBox& box,
                       const Arrangement& arrangement) {
    FieldPlane plane;
    plane.frequency = arrangement.frequency;
    plane.height = plane_height(s, arrangement);
    const double spacing = std::max(s.room.width, s.room.length) / 59;
    plane.nx = static_cast<int>(std::ceil(s.room.width / spacing - 1e-9)) + 1;
    plane.ny = static_cast<int>(std::ceil(s.room.length / spacing - 1e-9)) + 1;
    std::vector<Point> points, subs;
    for (int y = 0; y < plane.ny; ++y)
        for (int x = 0; x < plane.nx; ++x)
            points.push_back({std::min(s.room.width, s.room.width * x / (plane.nx - 1)),
                              std::min(s.room.length, s.room.length * y / (plane.ny - 1)),
                              plane.height});
    for (const StandingBox& b : arrangement.boxes) subs.push_back(b.sub.at);
    const std::vector<double> frequency{arrangement.frequency};
    const auto z = modal_transfer_many(s.room, s.air, frequency, points, subs);
    const auto u = volume_velocity(driver, box, frequency, s.air);
    plane.pressure.resize(points.size());
    for (std::size_t q = 0; q < subs.size(); ++q) {
        const PlacedSub& sub = arrangement.boxes[q].sub;
        const Complex drive =
            u[0] * std::polar(std::pow(10.0, sub.gain_db / 20),
                              -2 * std::numbers::pi * arrangement.frequency * sub.delay);
        for (std::size_t i = 0; i < points.size(); ++i)
            plane.pressure[i] += static_cast<std::complex<float>>(
                Complex(z.at(0, q, i)) * drive * static_cast<double>(sub.polarity));
    }
    return plane;
}

BoxSize box_size(const Scenario& s, const Driver& driver, double volume) {
    const ClosedBox box = closed_box(driver, volume, s.filling);
    const Enclosure outer = enclosure(volume, s.enclosure);
    const double inner =
        std::min({outer.width, outer.depth, outer.height}) - 2 * s.enclosure.thickness;
    const double cone = driver.sd ? std::sqrt(*driver.sd / std::numbers::pi) : 0.35 * inner;
    return {volume,      box.qtc,      box.fc,           outer.width,
            outer.depth, outer.height, s.enclosure.feet, cone};
}

/// The box round a sub that was placed by its acoustic centre. Of the ways the driver may look, the
/// one that standing the box there would give.
StandingBox box_round(const Scenario& s, const PlacedSub& sub, double volume) {
    const Enclosure outer = enclosure(volume, s.enclosure);
    const auto footprint = [&](Facing facing) {
        const Point off = acoustic_centre(0, 0, turned(outer, facing), s.enclosure.feet, facing);
        return Point{sub.at.x - off.x, sub.at.y - off.y, 0};
    };
    Facing facing = facing_at(s, sub.at);
    for (Facing way : {Facing::back, Facing::front, Facing::right, Facing::left})
        if (facing_at(s, footprint(way)) == way) {
            facing = way;
            break;
        }
    const Enclosure stands = turned(outer, facing);
    return {sub, footprint(facing), stands.width, stands.depth, direction(facing)};
}

/// The same sub, its box standing there and facing that way.
StandingBox stood(const Scenario& s, const StandingBox& box, Point footprint, Facing facing,
                  double volume) {
    StandingBox result = box;
    const Enclosure outer = turned(enclosure(volume, s.enclosure), facing);
    result.footprint = footprint;
    result.width = outer.width, result.depth = outer.depth;
    result.facing = direction(facing);
    result.sub.at = acoustic_centre(footprint.x, footprint.y, outer, s.enclosure.feet, facing);
    return result;
}

Facing facing_named(const std::string& name) {
    for (Facing facing : {Facing::left, Facing::right, Facing::front, Facing::up, Facing::down})
        if (facing_name(facing) == name) return facing;
    return Facing::back;
}

std::vector<PlacedSub> subs_of(const Arrangement& arrangement) {
    std::vector<PlacedSub> subs;
    for (const StandingBox& box : arrangement.boxes) subs.push_back(box.sub);
    return subs;
}

RoomAnswer answer_for(const Scenario& scenario, const Driver& driver, const Arrangement& wanted,
                      bool draft) {
    RoomAnswer answer;
    answer.arrangement = wanted;
    const double start = seconds_now();
    try {
        answer.box = box_size(scenario, driver, wanted.volume);
        const ClosedBox box = closed_box(driver, wanted.volume, scenario.filling);
        Scenario here = scenario;
        here.seats = wanted.seats;
        const std::vector<PlacedSub> subs = subs_of(wanted);
        if (draft) {
            std::vector<Point> from, to;
            for (const PlacedSub& sub : subs) from.push_back(sub.at);
            for (const Seat& seat : wanted.seats) to.push_back(seat.at);
            const auto z =
                modal_transfer_many(scenario.room, scenario.air, scenario.frequency, from, to);
            answer.heard =
                listen_through(here, driver, box, subs, {z.value.begin(), z.value.end()});
        } else {
            answer.heard = listen(here, driver, box, subs);
        }
        answer.field = field_plane(scenario, driver, box, wanted);
    } catch (const Error& error) {
        answer.trouble = error.faults().front().what;
    }
    answer.seconds = seconds_now() - start;
    return answer;
}

/// Where the file places no sub: one in the front left corner.
PlacedSub corner_sub(const Scenario& s, double volume) {
    const Facing facing = s.enclosure.facing == Facing::inward ? Facing::back : s.enclosure.facing;
    const Enclosure outer = turned(enclosure(volume, s.enclosure), facing);
    const Point corner{s.spots.gap + outer.width / 2, s.spots.gap + outer.depth / 2, 0};
    return stood(s, {{"sub", {}, 0, 0, 1}, {}, 0, 0, {}}, corner, facing, volume).sub;
}

}  // namespace

RoomView make_room_view(const Scenario& scenario, const Driver& driver,
                        std::vector<std::string>& warnings) {
    RoomView view;
    view.title = scenario.title;
    view.width = scenario.room.width;
    view.length = scenario.room.length;
    view.height = scenario.room.height;
    view.gap = scenario.spots.gap;
    view.keep_outs = scenario.keep_outs;
    view.frequency = scenario.frequency;
    view.band_low = scenario.target.band.low;
    view.band_high = scenario.target.band.high;
    for (int w = 0; w < 6; ++w)
        view.walls[w] = {wall_names[w], scenario.room.wall_description[w],
                         random_incidence_absorption(scenario.room.walls[w].admittance(
                             2 * std::numbers::pi * 63, scenario.air))};
    for (const Mode& mode : room_modes(scenario.room, scenario.air, scenario.frequency.back()))
        view.modes.push_back({mode.frequency, mode.order});

    Arrangement& start = view.start;
    start.volume = chosen_box(scenario, driver, warnings).volume;
    start.frequency = *std::min_element(scenario.frequency.begin(), scenario.frequency.end(),
                                        [&](double a, double b) {
                                            return std::abs(std::log(a / scenario.map_frequency)) <
                                                   std::abs(std::log(b / scenario.map_frequency));
                                        });
    start.seats = scenario.seats;
    std::vector<PlacedSub> subs = scenario.subs;
    if (subs.empty()) {
        subs.push_back(corner_sub(scenario, start.volume));
        view.note =
            "The file places no sub: one stands in the front left corner; n takes it to the "
            "best spot.";
    }
    for (const PlacedSub& sub : subs) start.boxes.push_back(box_round(scenario, sub, start.volume));

    view.recompute = [&](const Arrangement& wanted, bool draft) {
        return answer_for(scenario, driver, wanted, draft);
    };
    view.box_size = [&](double volume) { return box_size(scenario, driver, volume); };
    view.stand = [&](const StandingBox& box, Point footprint, double volume) {
        return stood(scenario, box, footprint, facing_at(scenario, footprint), volume);
    };
    view.rank = [&](const Arrangement& now) {
        Scenario here = scenario;
        here.seats = now.seats;
        Timings timings;
        std::vector<StandingBox> spots;
        const ClosedBox box = closed_box(driver, now.volume, scenario.filling);
        for (const RankedSpot& spot : rank_spots(here, driver, box, timings).spots)
            spots.push_back(stood(scenario, now.boxes.front(), spot.footprint,
                                  facing_named(spot.facing), now.volume));
        return spots;
    };
    view.room_file = [&](const Arrangement& now) {
        return rearranged_room_file(scenario.source_text, now.seats, subs_of(now), now.volume);
    };
    return view;
}

}  // namespace boxroom
