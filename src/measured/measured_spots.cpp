#include "measured/measured_spots.hpp"

#include <algorithm>
#include <cmath>

#include "placement/criteria.hpp"

namespace boxroom {
namespace {

constexpr double one_place = 0.05;  ///< [m]

struct Group {
    Point at;
    std::vector<const HeardCurve*> curves;
};

double distance(const Point& a, const Point& b) {
    return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

/// By spot; the first recording of a seat at a spot counts.
std::vector<Group> grouped(std::span<const HeardCurve> curves) {
    std::vector<Group> groups;
    for (const HeardCurve& curve : curves) {
        if (!curve.recording.box_on_seat) continue;
        auto group = std::find_if(groups.begin(), groups.end(), [&](const Group& g) {
            return distance(g.at, curve.recording.at) <= one_place;
        });
        if (group == groups.end()) group = groups.insert(group, {curve.recording.at, {}});
        const bool again =
            std::any_of(group->curves.begin(), group->curves.end(), [&](const HeardCurve* other) {
                return other->recording.box_on_seat == curve.recording.box_on_seat;
            });
        if (!again) group->curves.push_back(&curve);
    }
    return groups;
}

/// Nothing where too few frequencies of the target band are left.
bool judge(const Group& group, const Scenario& scenario, MeasuredSpot& spot) {
    std::vector<std::size_t> kept;
    const auto& frequency = group.curves.front()->frequency;
    const Band band = scenario.judgement.target.band;
    std::size_t asked = 0, in_band = 0;
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        const bool good = std::all_of(group.curves.begin(), group.curves.end(),
                                      [f](const HeardCurve* c) { return c->trusted[f] != 0; });
        asked += band.contains(frequency[f]), in_band += good && band.contains(frequency[f]);
        if (good) kept.push_back(f);
    }
    if (in_band < 8 || in_band * 4 < asked * 3) return false;
    std::vector<double> grid;
    for (const std::size_t f : kept) grid.push_back(frequency[f]);
    std::vector<Seat> seats;
    for (const HeardCurve* curve : group.curves)
        for (const Seat& seat : scenario.seats)
            if (seat.name == curve->recording.box_on_seat) seats.push_back(seat);
    ByFrequency<double> power(kept.size(), seats.size());
    for (std::size_t i = 0; i < kept.size(); ++i)
        for (std::size_t s = 0; s < seats.size(); ++s)
            power(i, s) = mean_square_of_level(group.curves[s]->level_db[kept[i]]);
    const Judge by(grid, seats, scenario.judgement.target);
    by.judge_seats(power, spot.criteria);
    by.judge_average(by.seat_average(power), spot.criteria);
    spot.at = group.at;
    for (const Seat& seat : seats) spot.seats.push_back(seat.name);
    return true;
}

}  // namespace

std::vector<MeasuredSpot> rank_measured_spots(std::span<const HeardCurve> curves,
                                              const Scenario& scenario) {
    std::vector<MeasuredSpot> spots;
    for (const Group& group : grouped(curves)) {
        MeasuredSpot spot;
        if (judge(group, scenario, spot)) spots.push_back(spot);
    }
    std::size_t most = 0;
    for (const MeasuredSpot& spot : spots) most = std::max(most, spot.seats.size());
    std::erase_if(spots, [&](const MeasuredSpot& s) { return s.seats.size() < most; });
    double loudest = -HUGE_VAL;
    for (const MeasuredSpot& s : spots) loudest = std::max(loudest, s.criteria.level_db);
    for (MeasuredSpot& s : spots)
        s.criteria.score = score(s.criteria, loudest, scenario.judgement.weights);
    std::stable_sort(spots.begin(), spots.end(), [](const MeasuredSpot& a, const MeasuredSpot& b) {
        return a.criteria.score < b.criteria.score;
    });
    return spots;
}

}  // namespace boxroom
