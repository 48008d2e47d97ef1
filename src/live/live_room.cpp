#include "live/live_room.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "live/in_the_air.hpp"
#include "placement/criteria.hpp"
#include "placement/decay_words.hpp"
#include "placement/pressure.hpp"
#include "placement/size_nodes.hpp"
#include "placement/spot_fields.hpp"

namespace boxroom {
namespace {

/// How far along from `low` to `high` a value lies, 0 to 1.
double share(double value, double low, double high) {
    return low < high ? std::clamp((value - low) / (high - low), 0.0, 1.0) : 0.5;
}

}  // namespace

LiveRoom::LiveRoom(const Scenario& scenario)
    : scenario_(scenario),
      driver_(complete_driver(scenario.design.driver, scenario.acoustics.air)),
      fields_(fields_of(scenario)),
      surfaces_(room_surfaces(scenario)) {
    for (const RoomSurface& surface : surfaces_)
        wall_.push_back(surface.in(scenario.acoustics.room));
    std::vector<std::string> ignored;
    scenario_.design.box_volume = chosen_box(scenario_, driver_, ignored).volume;
    const auto& subs = scenario_.placed.subs;
    place_.resize(std::max<std::size_t>(1, subs.size()));
    for (Place& place : place_) place.wanted = scenario_.design.enclosure.facing;
    for (std::size_t n = 0; n < subs.size(); ++n) {
        set_place(static_cast<int>(n), subs[n].at.x, subs[n].at.y, place_[n].wanted);
        place_[n].dial = subs[n].dial;
    }
}

void LiveRoom::set_seat(int seat, const Point& at) {
    scenario_.seats.at(seat).at = in_the_air(at, scenario_.acoustics.room);
}

void LiveRoom::learn(const std::function<void(double)>& progress) {
    fields_->learn(places_of(scenario_.seats), progress);
}

bool LiveRoom::take(const std::string& kept) {
    return fields_->take(places_of(scenario_.seats), kept);
}

void LiveRoom::set_wall(int surface, const Wall& material) {
    const RoomSurface& which = surfaces_.at(surface);
    const Wall now = softened(material, softness_);
    fields_->set_wall(which, now);
    wall_[surface] = material;
    which.in(scenario_.acoustics.room) = now;
}

const Wall& LiveRoom::wall(int surface) const {
    return surfaces_.at(surface).in(scenario_.acoustics.room);
}

void LiveRoom::set_part(int surface, const Wall& part, double area) {
    const std::array parts{WallPart{wall_.at(surface), 0, {}}, WallPart{part, area, {}}};
    set_wall(surface, mean_wall(parts, surfaces_[surface].area));
}

std::vector<std::string> LiveRoom::decay() const {
    return decay_words(plausible_decay(scenario_.acoustics.room, scenario_.acoustics.air));
}

void LiveRoom::set_softness(double factor) {
    if (factor == softness_) return;
    softness_ = factor;
    for (int surface = 0; surface < static_cast<int>(wall_.size()); ++surface)
        set_wall(surface, wall_[surface]);
}

void LiveRoom::set_box(double net_volume, double filling) {
    scenario_.design.box_volume = net_volume;
    scenario_.design.filling = filling;
}

void LiveRoom::set_dial(int sub, const Dial& dial) {
    place_.at(sub).dial = dial;
}

Facing LiveRoom::facing(const Place& place) const {
    const Sides box = enclosure(*scenario_.design.box_volume, scenario_.design.enclosure);
    const double mean = (box.width + box.depth) / 2;  // not yet turned, as in SpotGrid
    const Point at =
        between_walls(place.share_x, place.share_y, {mean, mean, box.height}, scenario_);
    return resolved_facing(place.wanted, at, scenario_.acoustics.room);
}

void LiveRoom::set_place(int sub, double x, double y, Facing facing) {
    Place& place = place_.at(sub);
    place.wanted = facing;
    const Sides box = enclosure(*scenario_.design.box_volume, scenario_.design.enclosure);
    // Which way the box looks depends on where it stands, and where it can stand on how it is
    // turned: the second go counts, so that the place given back is the place taken again.
    Facing looks = resolved_facing(facing, {x, y, 0}, scenario_.acoustics.room);
    for (int go = 0; go < 2; ++go, looks = this->facing(place)) {
        const Sides standing = turned(box, looks);
        const double left = scenario_.wanted.spots.gap + standing.width / 2;
        const double front = scenario_.wanted.spots.gap + standing.depth / 2;
        place.share_x = share(x, left, scenario_.acoustics.room.width - left);
        place.share_y = share(y, front, scenario_.acoustics.room.length - front);
    }
}

BoxStanding LiveRoom::standing(const Place& place, const Sides& as_built, Facing looks) const {
    BoxStanding out;
    out.facing = looks;
    out.sides = turned(as_built, looks);
    out.footprint = free_of_walls(between_walls(place.share_x, place.share_y, out.sides, scenario_),
                                  out.sides, scenario_);
    out.cone = in_the_air(acoustic_centre(out.footprint.x, out.footprint.y, out.sides,
                                          scenario_.design.enclosure.feet, looks),
                          scenario_.acoustics.room);
    return out;
}

BoxStanding LiveRoom::standing(const Place& place) const {
    return standing(place, enclosure(*scenario_.design.box_volume, scenario_.design.enclosure),
                    facing(place));
}

LiveAnswer LiveRoom::answer() {
    LiveAnswer out;
    out.box = closed_box(driver_, *scenario_.design.box_volume, scenario_.design.filling);
    std::vector<PlacedSub> subs;
    std::vector<Point> cones;
    for (const Place& place : place_) {
        out.standing.push_back(standing(place));
        cones.push_back(out.standing.back().cone);
        subs.push_back({"sub", cones.back(), place.dial});
    }
    for (std::size_t n = 0; n < place_.size(); ++n) {
        std::vector<BoxStanding> others = out.standing;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(n));
        out.fits.push_back(may_stand(scenario_, out.standing[n], others));
    }
    auto z = fields_->transfer(cones, places_of(scenario_.seats));
    out.at_seats = listen_through(scenario_, driver_, out.box, subs,
                                  {z.frequencies, z.receivers, z.sources, std::move(z.value)});
    out.spread = spread_by_frequency(out.at_seats);
    out.draft = !learnt();
    return out;
}

std::array<std::vector<double>, 2> LiveRoom::balance_by_qtc(std::span<const double> qtc) {
    std::array<std::vector<double>, 2> out;
    if (qtc.empty()) return out;
    // 1. The boxes, and the sizes at which the room is solved for them, sub by sub.
    std::vector<ClosedBox> boxes;
    for (double q : qtc) boxes.push_back(closed_box_for_qtc(driver_, q, scenario_.design.filling));
    const auto [small, large] = std::minmax_element(
        boxes.begin(), boxes.end(),
        [](const ClosedBox& a, const ClosedBox& b) { return a.volume < b.volume; });
    const auto& frequency = scenario_.acoustics.frequency;
    std::vector<SizeNodes> sizes;
    std::vector<Point> cones;
    std::vector<Dial> dials;
    for (const Place& place : place_) {
        sizes.emplace_back(small->volume, large->volume, scenario_.design.enclosure);
        dials.push_back(place.dial);
        const Facing looks = facing(place);
        for (std::size_t n = 0; n < sizes.back().size(); ++n)
            cones.push_back(standing(place, sizes.back().box(n), looks).cone);
    }
    const auto z = fields_->transfer(cones, places_of(scenario_.seats));
    const auto factor = dial_factors(frequency, dials);

    // 2. Each box through what lies between them.
    const Judge judge(frequency, scenario_.seats, scenario_.judgement.target);
    ByFrequency<double> power(z.frequencies, z.receivers);
    for (const ClosedBox& box : boxes) {
        const auto u = volume_velocity(driver_, box, frequency, scenario_.acoustics.air);
        for (std::size_t f = 0; f < z.frequencies; ++f)
            for (std::size_t s = 0; s < z.receivers; ++s) {
                std::complex<double> sum = 0;
                for (std::size_t k = 0, cone = 0; k < sizes.size(); ++k)
                    for (const double weight : sizes[k].weights(box.volume))
                        sum += weight * factor(f, k) * z.at(f, s, cone++);
                power(f, s) = std::norm(sum * u[f]);
            }
        out[0].push_back(judge.balance(judge.seat_average(power)));
        out[1].push_back(judge.balance(half_space_power(frequency, u, scenario_.acoustics.air)));
    }
    return out;
}

ByFrequency<std::complex<double>> LiveRoom::pressure_of_others(int sub,
                                                               const Scenario& scenario) const {
    std::vector<Point> cones;
    std::vector<Dial> dials;
    for (std::size_t n = 0; n < place_.size(); ++n) {
        if (static_cast<int>(n) == sub) continue;
        cones.push_back(standing(place_[n]).cone);
        dials.push_back(place_[n].dial);
    }
    const auto& frequency = scenario.acoustics.frequency;
    if (cones.empty()) return {frequency.size(), scenario.seats.size()};
    return pressure_at(transfer_to_seats(scenario, cones), dial_factors(frequency, dials));
}

FloorMap LiveRoom::spread_map(int sub, double step) const {
    // Only the judged band counts for the spread.
    const Place& place = place_.at(sub);
    Scenario coarse = scenario_;
    coarse.acoustics.solver = fields_->solver();
    coarse.wanted.spots.step = step;
    std::erase_if(coarse.acoustics.frequency,
                  [&](double f) { return !coarse.judgement.target.band.contains(f); });
    const double volume = *coarse.design.box_volume;
    const Sides outer = enclosure(volume, coarse.design.enclosure);
    coarse.design.enclosure.facing = place.wanted;
    const SpotGrid grid(coarse, outer);
    const auto field = SpotFields(coarse, grid, volume, volume).at(volume);
    const auto rest = pressure_of_others(sub, coarse);
    const auto dial = place.dial.factors(coarse.acoustics.frequency);
    const Judge judge(coarse.acoustics.frequency, coarse.seats, coarse.judgement.target);
    std::vector<BoxStanding> others;
    for (std::size_t n = 0; n < place_.size(); ++n)
        if (static_cast<int>(n) != sub) others.push_back(standing(place_[n]));

    FloorMap map = blank_spot_map(coarse, grid, outer);
    // The boxes' own response is the same at every seat, so the spread does not see it.
    ByFrequency<double> power(judge.frequency().size(), judge.seats());
    for (int spot = 0; spot < grid.size(); ++spot) {
        BoxStanding box;
        box.footprint = grid.footprint(spot, outer);
        box.sides = turned(outer, grid.facing(spot));
        if (!may_stand(coarse, box, others)) continue;
        for (std::size_t f = 0; f < power.frequencies(); ++f)
            for (std::size_t s = 0; s < power.rows(); ++s)
                power(f, s) = std::norm(
                    std::complex<double>(field.at(f, s, static_cast<std::size_t>(spot))) * dial[f] +
                    rest(f, s));
        Criteria criteria;
        judge.judge_seats(power, criteria);
        map.valid[spot] = 1;
        map.value[spot] = criteria.spread_db;
    }
    return map;
}

}  // namespace boxroom
