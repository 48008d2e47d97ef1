#include "tuning/set_floor.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/error.hpp"
#include "base/number.hpp"
#include "placement/spot_fields.hpp"
#include "solvers/room_solver.hpp"

namespace boxroom {

using Complex = std::complex<double>;

BoxKind::BoxKind(const Scenario& s, const Driver& d, const ClosedBox& b)
    : box(b),
      outer(enclosure(box.volume, s.design.enclosure)),
      grid(s, outer),
      source(volume_velocity(d, b, s.acoustics.frequency, s.acoustics.air)) {
    std::vector<std::uint8_t> fits;
    for (int spot = 0; spot < grid.size(); ++spot) {
        fits.push_back(grid.fits(spot, outer));
        if (!fits.back()) continue;
        spots.push_back(spot);
        centres.push_back(grid.centre(spot, outer));
    }
    if (spots.empty())
        throw Error("[spots]",
                    s.wanted.set_volumes.empty()
                        ? "the box fits nowhere in this room"
                        : "the box of " + number(1e3 * box.volume, 1) +
                              " L of [search] volumes fits nowhere in this room",
                    "loosen [[keep_out]], [spots] gap, seat_clearance or tallest, or take a "
                    "smaller box");
    z = SpotFields(s, grid, box.volume, box.volume, fits).at(box.volume);
}

SetFloor::SetFloor(const Scenario& s, const Driver& d, const ClosedBox& b)
    : scenario(s), driver(d) {
    kinds.reserve(s.wanted.set_volumes.size() + 1);
    if (s.wanted.set_volumes.empty()) kinds.emplace_back(s, d, b);
    for (const double volume : s.wanted.set_volumes)
        kinds.emplace_back(s, d, closed_box(d, volume, s.design.filling));
    for (std::size_t k = 0; k < kinds.size(); ++k)
        for (std::size_t n = 0; n < kinds[k].spots.size(); ++n)
            candidates.push_back({static_cast<int>(k), static_cast<int>(n)});
    if (kinds.size() == 1) return;
    z_ = {kinds[0].z.frequencies, kinds[0].z.receivers, candidates.size()};
    for (std::size_t f = 0; f < z_.frequencies; ++f)
        for (std::size_t r = 0; r < z_.receivers; ++r)
            for (std::size_t n = 0; n < candidates.size(); ++n) {
                const auto [kind, number] = candidates[n];
                const auto there = kinds[kind].z.at(f, r, number);
                z_.at(f, r, n) =
                    kind == 0
                        ? there
                        : there * std::complex<float>(kinds[kind].source[f] / kinds[0].source[f]);
            }
}

std::vector<int> SetFloor::numbers() const {
    std::vector<int> all(candidates.size());
    std::iota(all.begin(), all.end(), 0);
    return all;
}

SetRules SetFloor::rules() const {
    if (kinds.size() == 1)
        return make_set_rules(scenario, kinds[0].grid, kinds[0].outer, kinds[0].spots);
    std::vector<Standing> boxes;
    for (const auto& [kind, number] : candidates) {
        const BoxKind& of = kinds[kind];
        const int spot = of.spots[number];
        boxes.push_back(
            {of.grid.footprint(spot, of.outer), turned(of.outer, of.grid.facing(spot))});
    }
    return rules_of_boxes(scenario, boxes);
}

std::vector<double> SetFloor::source_power() const {
    std::vector<double> power;
    for (const Complex& u : kinds[0].source) power.push_back(std::norm(u));
    return power;
}

void SetFloor::solve_in_full(std::span<const RankedSet> sets, std::span<const RankedSet> others) {
    if (scenario.acoustics.solver.solver == RoomSolver::grid) return;
    const std::size_t known = full_at_.size();
    for (const auto& some : {sets, others})
        for (const RankedSet& set : some)
            for (const Point& p : set.positions)
                if (std::ranges::find(full_at_, p) == full_at_.end()) full_at_.push_back(p);
    const auto fresh = std::span(full_at_).subspan(known);
    const auto there = room_transfer_shared(scenario.acoustics.room, scenario.acoustics.air,
                                            scenario.acoustics.frequency, fresh,
                                            places_of(scenario.seats), scenario.acoustics.solver);
    for (std::size_t n = 0; n < fresh.size(); ++n) {
        auto& of_place = full_.emplace_back();
        for (std::size_t f = 0; f < there.frequencies; ++f)
            for (std::size_t s = 0; s < there.receivers; ++s) of_place.push_back(there.at(f, s, n));
    }
}

const BoxKind& SetFloor::kind_of(const RankedSet& set, std::size_t sub) const {
    return *std::ranges::min_element(kinds, {}, [&](const BoxKind& kind) {
        return mixed() ? std::abs(kind.box.volume - set.volumes[sub]) : 0.0;
    });
}

ByFrequency<Complex> SetFloor::from(const RankedSet& set) const {
    ByFrequency<Complex> out(z().frequencies, z().receivers, set.positions.size());
    for (std::size_t k = 0; k < set.positions.size(); ++k) {
        const auto fill = [&](const auto& impedance) {
            for (std::size_t f = 0; f < z().frequencies; ++f)
                for (std::size_t s = 0; s < z().receivers; ++s) out(f, s, k) = impedance(f, s);
        };
        const Point p = set.positions[k];
        if (const auto found = std::ranges::find(full_at_, p); found != full_at_.end()) {
            const auto& full = full_[found - full_at_.begin()];
            fill([&](std::size_t f, std::size_t s) { return full[f * z().receivers + s]; });
            continue;
        }
        const BoxKind& of = kind_of(set, k);
        const auto nearest = std::ranges::min_element(of.centres, {}, [&](const Point& c) {
            return std::hypot(c.x - p.x, c.y - p.y, c.z - p.z);
        });
        const std::size_t number = nearest - of.centres.begin();
        fill([&](std::size_t f, std::size_t s) { return of.z.at(f, s, number); });
    }
    return out;
}

ByFrequency<Complex> SetFloor::pressure(const RankedSet& set) const {
    ByFrequency<Complex> p = from(set);
    for (std::size_t k = 0; k < set.positions.size(); ++k) {
        const auto& source = kind_of(set, k).source;
        for (std::size_t f = 0; f < z().frequencies; ++f)
            for (std::size_t s = 0; s < z().receivers; ++s) p(f, s, k) *= source[f];
    }
    return p;
}

RankedSet SetFloor::places(const FoundSet& found, int subs) const {
    RankedSet set;
    for (int k = 0; k < subs; ++k) {
        const auto [kind, number] = candidates[found.spot[k]];
        const BoxKind& of = kinds[kind];
        const int spot = of.spots[number];
        set.positions.push_back(of.centres[number]);
        set.footprints.push_back(of.grid.footprint(spot, of.outer));
        set.facings.push_back(of.grid.facing(spot));
        if (mixed()) set.volumes.push_back(of.box.volume);
    }
    set.settings.resize(subs);
    return set;
}

}  // namespace boxroom
