#include "placement/standing.hpp"

#include <algorithm>
#include <cmath>

#include "placement/spots.hpp"

namespace boxroom {

BoxStanding standing_at(const Scenario& scenario, const Point& footprint, Facing facing,
                        double volume) {
    BoxStanding out;
    out.footprint = {footprint.x, footprint.y, 0};
    out.facing = resolved_facing(facing, footprint, scenario.acoustics.room);
    out.sides = turned(enclosure(volume, scenario.design.enclosure), out.facing);
    out.cone = acoustic_centre(footprint.x, footprint.y, out.sides, scenario.design.enclosure.feet,
                               out.facing);
    return out;
}

BoxPlace place_of(const Scenario& scenario, std::size_t n) {
    const auto& places = scenario.placed.places;
    return n < places.size() ? places[n] : BoxPlace{};
}

BoxStanding standing_in_file(const Scenario& scenario, std::size_t n, double volume) {
    const PlacedSub& sub = scenario.placed.subs[n];
    return standing_of(scenario, sub, place_of(scenario, n), sub.volume > 0 ? sub.volume : volume);
}

BoxStanding standing_of(const Scenario& scenario, const PlacedSub& sub, const BoxPlace& place,
                        double volume) {
    const Facing told = place.facing.value_or(scenario.design.enclosure.facing);
    if (place.footprint) return standing_at(scenario, *place.footprint, told, volume);
    const Sides outer = enclosure(volume, scenario.design.enclosure);
    const auto footprint = [&](Facing facing) {
        const Point off =
            acoustic_centre(0, 0, turned(outer, facing), scenario.design.enclosure.feet, facing);
        return Point{sub.at.x - off.x, sub.at.y - off.y, 0};
    };
    const Room& room = scenario.acoustics.room;
    Facing facing = resolved_facing(told, sub.at, room);
    if (told == Facing::inward)
        for (const Facing way : {Facing::back, Facing::front, Facing::right, Facing::left})
            if (resolved_facing(told, footprint(way), room) == way) {
                facing = way;
                break;
            }
    BoxStanding out = standing_at(scenario, footprint(facing), facing, volume);
    out.cone = sub.at;
    return out;
}

BoxStanding resized(const Scenario& scenario, const BoxStanding& from, double volume) {
    const Sides now = turned(enclosure(volume, scenario.design.enclosure), from.facing);
    const Point low = between_walls(0, 0, from.sides, scenario),
                high = between_walls(1, 1, from.sides, scenario);
    const auto share = [](double at, double a, double b) {
        return b - a > 1e-9 ? (at - a) / (b - a) : 0.5;
    };
    return standing_at(scenario,
                       between_walls(share(from.footprint.x, low.x, high.x),
                                     share(from.footprint.y, low.y, high.y), now, scenario),
                       from.facing, volume);
}

bool may_stand(const Scenario& scenario, const BoxStanding& box,
               const std::vector<BoxStanding>& others) {
    if (!box_fits(scenario, box.footprint, box.sides)) return false;
    return std::none_of(others.begin(), others.end(), [&](const BoxStanding& o) {
        return std::abs(o.footprint.x - box.footprint.x) <
                   (o.sides.width + box.sides.width) / 2 - 1e-9 &&
               std::abs(o.footprint.y - box.footprint.y) <
                   (o.sides.depth + box.sides.depth) / 2 - 1e-9;
    });
}

}  // namespace boxroom
