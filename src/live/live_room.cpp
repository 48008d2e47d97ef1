#include "live/live_room.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "placement/criteria.hpp"
#include "placement/decay_words.hpp"
#include "placement/size_nodes.hpp"
#include "placement/spot_fields.hpp"
#include "solvers/wall_areas.hpp"

namespace boxroom {
namespace {

/// How far along from `low` to `high` a value lies, 0 to 1.
double share(double value, double low, double high) {
    return low < high ? std::clamp((value - low) / (high - low), 0.0, 1.0) : 0.5;
}

Point inside(const Point& p, const Room& room) {
    return {std::clamp(p.x, 0.0, room.width), std::clamp(p.y, 0.0, room.length),
            std::clamp(p.z, 0.0, room.height)};
}

}  // namespace

LiveRoom::LiveRoom(const Scenario& scenario)
    : scenario_(scenario),
      driver_(complete_driver(scenario.design.driver, scenario.acoustics.air)),
      room_(scenario.acoustics.room, scenario.acoustics.air, scenario.acoustics.frequency),
      wall_(scenario.acoustics.room.walls) {
    std::vector<std::string> ignored;
    scenario_.design.box_volume = chosen_box(scenario_, driver_, ignored).volume;
    if (!scenario_.placed.subs.empty())
        set_place(scenario_.placed.subs[0].at.x, scenario_.placed.subs[0].at.y,
                  scenario_.design.enclosure.facing);
}

void LiveRoom::set_seat(int seat, const Point& at) {
    scenario_.seats.at(seat).at = inside(at, scenario_.acoustics.room);
}

Wall LiveRoom::softened(const Wall& wall) const {
    Wall out = wall;
    for (Branch& b : out.branches)
        b.resistance /= softness_, b.mass /= softness_, b.stiffness /= softness_;
    return out;
}

void LiveRoom::set_wall(int wall, const Wall& material) {
    wall_.at(wall) = material;
    scenario_.acoustics.room.walls[wall] = softened(material);
    room_.set_wall(wall, scenario_.acoustics.room.walls[wall]);
}

void LiveRoom::set_part(int wall, const Wall& part, double area) {
    const Room& room = scenario_.acoustics.room;
    set_wall(wall, mean_wall(std::array{WallPart{wall_[wall], 0, {}}, WallPart{part, area, {}}},
                             wall_areas(room.width, room.length, room.height)[wall]));
}

std::vector<std::string> LiveRoom::decay() const {
    return decay_words(plausible_decay(scenario_.acoustics.room, scenario_.acoustics.air));
}

void LiveRoom::set_softness(double factor) {
    if (factor == softness_) return;
    softness_ = factor;
    for (int wall = 0; wall < 6; ++wall) set_wall(wall, wall_[wall]);
}

void LiveRoom::set_box(double net_volume, double filling) {
    scenario_.design.box_volume = net_volume;
    scenario_.design.filling = filling;
}

Facing LiveRoom::facing() const {
    const Sides box = enclosure(*scenario_.design.box_volume, scenario_.design.enclosure);
    const double mean = (box.width + box.depth) / 2;  // not yet turned, as in SpotGrid
    return facing_at(scenario_, footprint({mean, mean, box.height}));
}

Sides LiveRoom::outer() const {
    return turned(enclosure(*scenario_.design.box_volume, scenario_.design.enclosure), facing());
}

void LiveRoom::set_place(double x, double y, Facing facing) {
    scenario_.design.enclosure.facing = facing;
    const Sides box = enclosure(*scenario_.design.box_volume, scenario_.design.enclosure);
    // Which way the box looks depends on where it stands, and where it can stand on how it is
    // turned: the second go counts, so that the place given back is the place taken again.
    Facing looks = resolved_facing(facing, {x, y, 0}, scenario_.acoustics.room);
    for (int go = 0; go < 2; ++go, looks = this->facing()) {
        const Sides standing = turned(box, looks);
        const double left = scenario_.wanted.spots.gap + standing.width / 2;
        const double front = scenario_.wanted.spots.gap + standing.depth / 2;
        share_x_ = share(x, left, scenario_.acoustics.room.width - left);
        share_y_ = share(y, front, scenario_.acoustics.room.length - front);
    }
}

Point LiveRoom::footprint(const Sides& box) const {
    return between_walls(share_x_, share_y_, box, scenario_);
}

Point LiveRoom::centre(const Sides& box, Facing facing) const {
    const Point at = footprint(box);
    return inside(acoustic_centre(at.x, at.y, box, scenario_.design.enclosure.feet, facing),
                  scenario_.acoustics.room);
}

std::vector<Point> LiveRoom::seat_places() const {
    std::vector<Point> places;
    for (const Seat& seat : scenario_.seats) places.push_back(seat.at);
    return places;
}

LiveAnswer LiveRoom::answer() {
    LiveAnswer out;
    out.box = closed_box(driver_, *scenario_.design.box_volume, scenario_.design.filling);
    out.facing = facing();
    out.outer = outer();
    out.footprint = footprint(out.outer);
    out.fits = box_fits(scenario_, out.footprint, out.outer);
    const Point cone = centre(out.outer, out.facing);
    auto z = room_.transfer({&cone, 1}, seat_places());
    out.at_seats = listen_through(scenario_, driver_, out.box, {{"sub", cone}},
                                  {z.frequencies, z.receivers, z.sources, std::move(z.value)});
    out.spread = spread_by_frequency(out.at_seats);
    return out;
}

std::array<std::vector<double>, 2> LiveRoom::balance_by_qtc(std::span<const double> qtc) {
    std::array<std::vector<double>, 2> out;
    if (qtc.empty()) return out;
    // 1. The boxes, and the sizes at which the room is solved for them.
    std::vector<ClosedBox> boxes;
    for (double q : qtc) boxes.push_back(closed_box_for_qtc(driver_, q, scenario_.design.filling));
    const auto [small, large] = std::minmax_element(
        boxes.begin(), boxes.end(),
        [](const ClosedBox& a, const ClosedBox& b) { return a.volume < b.volume; });
    const SizeNodes sizes(small->volume, large->volume, scenario_.design.enclosure);
    const Facing looks = facing();
    std::vector<Point> cones;
    for (std::size_t n = 0; n < sizes.size(); ++n)
        cones.push_back(centre(turned(sizes.box(n), looks), looks));
    const auto z = room_.transfer(cones, seat_places());

    // 2. Each box through what lies between them.
    const Judge judge(scenario_.acoustics.frequency, scenario_.seats, scenario_.judgement.target);
    ByFrequency<double> power(z.frequencies, z.receivers);
    for (const ClosedBox& box : boxes) {
        const auto weight = sizes.weights(box.volume);
        const auto u =
            volume_velocity(driver_, box, scenario_.acoustics.frequency, scenario_.acoustics.air);
        for (std::size_t f = 0; f < z.frequencies; ++f)
            for (std::size_t s = 0; s < z.receivers; ++s) {
                std::complex<double> sum = 0;
                for (std::size_t n = 0; n < weight.size(); ++n) sum += weight[n] * z.at(f, s, n);
                power(f, s) = std::norm(sum * u[f]);
            }
        out[0].push_back(judge.balance(judge.seat_average(power)));
        out[1].push_back(judge.balance(
            half_space_power(scenario_.acoustics.frequency, u, scenario_.acoustics.air)));
    }
    return out;
}

FloorMap LiveRoom::spread_map(double step) const {
    // Only the judged band counts for the spread.
    Scenario coarse = scenario_;
    coarse.wanted.spots.step = step;
    std::erase_if(coarse.acoustics.frequency,
                  [&](double f) { return !coarse.judgement.target.band.contains(f); });
    const ClosedBox box = closed_box(driver_, *coarse.design.box_volume, coarse.design.filling);
    const Sides outer = enclosure(box.volume, coarse.design.enclosure);
    const SpotGrid grid(coarse, outer);
    const SpotFields fields(coarse, grid, box.volume, box.volume);
    const Judge judge(coarse.acoustics.frequency, coarse.seats, coarse.judgement.target);

    FloorMap map = blank_spot_map(coarse, grid, outer);
    std::vector<float> squared;
    fields.squared(box.volume, 0, grid.size(), squared);
    // The box's own response is the same at every seat, so the spread does not see it.
    ByFrequency<double> power(judge.frequency().size(), judge.seats());
    for (int spot = 0; spot < grid.size(); ++spot) {
        if (!grid.fits(spot, outer)) continue;
        for (std::size_t f = 0, i = 0; f < power.frequencies(); ++f)
            for (std::size_t s = 0; s < power.rows(); ++s, ++i)
                power(f, s) = squared[i * grid.size() + spot];
        Criteria criteria;
        judge.judge_seats(power, criteria);
        map.valid[spot] = 1;
        map.value[spot] = criteria.spread_db;
    }
    return map;
}

}  // namespace boxroom
