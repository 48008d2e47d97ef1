#include "tuning/standing_set.hpp"

#include <algorithm>
#include <cmath>

#include "base/written.hpp"
#include "placement/listening.hpp"
#include "placement/pressure.hpp"

namespace boxroom {
namespace {

double rounded(double value, Quantity quantity, const WrittenUnit& unit) {
    const double step = everyday_step(value, quantity, unit);
    return read_back(std::round(value / step) * step, quantity, unit);
}

/// The nearest place on whole steps where the box may stand; as it is, to what a file can say,
/// where none is.
BoxStanding on_steps(const Scenario& scenario, const BoxStanding& box, double volume,
                     const WrittenUnit& unit, const std::vector<BoxStanding>& others) {
    const double step = everyday_step(1, Quantity::length, unit);
    const auto along = [&](double at, int k) {
        return read_back((std::round(at / step) + k) * step, Quantity::length, unit);
    };
    const Point& at = box.footprint;
    std::vector<Point> near;
    for (int i = -1; i <= 1; ++i)
        for (int j = -1; j <= 1; ++j) near.push_back({along(at.x, i), along(at.y, j), 0});
    const auto distance = [&](const Point& p) { return std::hypot(p.x - at.x, p.y - at.y); };
    std::ranges::stable_sort(near, {}, distance);
    near.push_back(
        {read_back(at.x, Quantity::length, unit), read_back(at.y, Quantity::length, unit), 0});
    for (const Point& p : near) {
        const BoxStanding there = standing_at(scenario, p, box.facing, volume);
        if (may_stand(scenario, there, others)) return there;
    }
    return standing_at(scenario, near.back(), box.facing, volume);
}

}  // namespace

StandingSet standing_set(const Scenario& scenario, const RankedSet& set, double volume) {
    StandingSet out;
    out.dials = set.settings;
    out.mixed = !set.volumes.empty();
    out.volumes = out.mixed ? set.volumes : std::vector<double>(set.positions.size(), volume);
    for (std::size_t k = 0; k < set.positions.size(); ++k)
        out.boxes.push_back(
            standing_at(scenario, set.footprints[k], set.facings[k], out.volumes[k]));
    return out;
}

std::vector<PlacedSub> subs_of(const StandingSet& set) {
    std::vector<PlacedSub> subs;
    for (std::size_t k = 0; k < set.boxes.size(); ++k) {
        const std::string name = set.boxes.size() == 1 ? "sub" : "sub " + std::to_string(k + 1);
        subs.push_back({name, set.boxes[k].cone, set.dials[k], set.volumes[k]});
    }
    return subs;
}

ByFrequency<double> per_flow(const Scenario& scenario, const StandingSet& set) {
    std::vector<Point> from;
    for (const BoxStanding& box : set.boxes) from.push_back(box.cone);
    return squared(pressure_at(transfer_to_seats(scenario, from),
                               dial_factors(scenario.acoustics.frequency, set.dials)));
}

bool resize(const Scenario& scenario, double volume, StandingSet& set) {
    StandingSet out = set;
    out.boxes.clear();
    for (const BoxStanding& box : set.boxes) {
        const BoxStanding now = resized(scenario, box, volume);
        if (!may_stand(scenario, now, out.boxes)) return false;
        out.boxes.push_back(now);
    }
    out.volumes.assign(out.boxes.size(), volume);
    set = out;
    return true;
}

StandingSet as_in_file(const Scenario& scenario, const StandingSet& set, const WrittenUnit& length,
                       const WrittenUnit& volume_unit) {
    StandingSet out = set;
    out.boxes.clear();
    for (std::size_t k = 0; k < set.boxes.size(); ++k) {
        const double volume = out.volumes[k] =
            rounded(set.volumes[k], Quantity::volume, volume_unit);
        out.boxes.push_back(
            on_steps(scenario, resized(scenario, set.boxes[k], volume), volume, length, out.boxes));
        Dial& dial = out.dials[k];
        dial.gain_db = read_back(dial.gain_db, Quantity::level, {"dB"});
        dial.delay = read_back(dial.delay, Quantity::time, {"ms", 1e-3});
    }
    return out;
}

std::vector<DecidedSub> decided_subs(const Scenario& scenario, const Driver& driver,
                                     const StandingSet& set) {
    std::vector<DecidedSub> out;
    const auto subs = subs_of(set);
    for (std::size_t k = 0; k < subs.size(); ++k) {
        const BoxStanding& at = set.boxes[k];
        const ClosedBox box = closed_box(driver, subs[k].volume, scenario.design.filling);
        out.push_back({subs[k].name, scenario.design.name, box.volume, box.qtc,
                       enclosure(box.volume, scenario.design.enclosure), at.footprint, at.cone,
                       at.facing, subs[k].dial});
    }
    return out;
}

}  // namespace boxroom
