#pragma once
#include <span>
#include <string>
#include <vector>

#include "measured/heard_curve.hpp"
#include "placement/scenario.hpp"
#include "results/criteria.hpp"

namespace boxroom {

/// A place of the microphone that was measured with the box on seats.
struct MeasuredSpot {
    Point at;
    std::vector<std::string> seats;  ///< whose recordings there are
    Criteria criteria;
};

/// The spots that recordings with the box on a seat speak of, best first, without any model: what a
/// point source at A does at B it does from B at A (reciprocity; Pierce, Acoustics, sec. 4-9).
/// Judged by the scenario's criteria at the frequencies that all their recordings of a spot can be
/// trusted at; levels compare as far as no gain was touched in between. Recordings within 5 cm are
/// one spot. Only the spots with the most seats are ranked: fewer seats are easier to serve.
std::vector<MeasuredSpot> rank_measured_spots(std::span<const HeardCurve> curves,
                                              const Scenario& scenario);

}  // namespace boxroom
