#include "tuning/set_choice.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {

static constexpr double near_by = 0.30;  // [m]

bool same_advice(const RankedSet& a, const RankedSet& b) {
    std::vector<bool> taken(b.footprints.size());
    for (const Point& p : a.footprints) {
        int nearest = -1;
        double shortest = near_by;
        for (std::size_t n = 0; n < b.footprints.size(); ++n) {
            const double d = std::hypot(p.x - b.footprints[n].x, p.y - b.footprints[n].y);
            if (!taken[n] && d < shortest - 1e-9) nearest = static_cast<int>(n), shortest = d;
        }
        if (nearest < 0) return false;
        taken[nearest] = true;
    }
    return true;
}

std::vector<RankedSet> front_of(std::vector<RankedSet> sets) {
    const auto beats = [](const Criteria& a, const Criteria& b) {
        const bool no_worse = a.spread_db <= b.spread_db && a.unevenness_db <= b.unevenness_db &&
                              a.level_db >= b.level_db;
        return no_worse && (a.spread_db < b.spread_db || a.unevenness_db < b.unevenness_db ||
                            a.level_db > b.level_db);
    };
    const auto alike = [](const Criteria& a, const Criteria& b) {
        return std::abs(a.spread_db - b.spread_db) < 0.1 &&
               std::abs(a.unevenness_db - b.unevenness_db) < 0.1 &&
               std::abs(a.level_db - b.level_db) < 0.5;
    };
    std::ranges::stable_sort(sets, {}, [](const RankedSet& s) { return s.criteria.score; });
    std::vector<RankedSet> front;
    for (const RankedSet& set : sets)
        if (std::ranges::none_of(
                sets, [&](const RankedSet& o) { return beats(o.criteria, set.criteria); }) &&
            std::ranges::none_of(
                front, [&](const RankedSet& o) { return alike(o.criteria, set.criteria); }))
            front.push_back(set);
    std::ranges::stable_sort(front, {}, [](const RankedSet& s) { return s.criteria.spread_db; });
    return front;
}

}  // namespace boxroom
