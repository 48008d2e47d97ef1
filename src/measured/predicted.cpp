#include "measured/predicted.hpp"

#include "base/levels.hpp"
#include "placement/sources.hpp"
#include "solvers/room_solver.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

/// Whether a source plays in a recording; boxes on seats stand behind the placed subs.
bool plays(const Recording& recording, const PlacedSub& source, bool placed) {
    if (recording.box_on_seat) return !placed && source.name == *recording.box_on_seat;
    return placed && (!recording.sub || source.name == *recording.sub);
}

}  // namespace

// A box on a seat is one more source; where it stands is all that is known of it.
std::vector<PlacedSub> sources_of_recordings(const Scenario& scenario,
                                             const std::vector<Recording>& recordings) {
    std::vector<PlacedSub> sources = scenario.placed.subs;
    for (const Recording& recording : recordings) {
        if (!recording.box_on_seat) continue;
        for (const Seat& seat : scenario.seats)
            if (seat.name == *recording.box_on_seat) sources.push_back({seat.name, seat.at});
    }
    return sources;
}

Pressures predicted_pressures(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                              const std::vector<Recording>& recordings) {
    std::vector<Point> from, to;
    for (const PlacedSub& source : sources_of_recordings(scenario, recordings))
        from.push_back(source.at);
    for (const Recording& recording : recordings) to.push_back(recording.at);
    const Acoustics& a = scenario.acoustics;
    return predicted_pressures(scenario, driver, box, recordings,
                               room_transfer(a.room, a.air, a.frequency, from, to, a.solver));
}

Pressures predicted_pressures(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                              const std::vector<Recording>& recordings,
                              const TransferImpedance<double>& z) {
    const auto sources = sources_of_recordings(scenario, recordings);
    const auto& frequency = scenario.acoustics.frequency;
    const auto u = sources_of(scenario, driver, boxes_of(scenario, driver, box, sources), sources,
                              frequency, {})
                       .free;
    Pressures pressures;
    for (std::size_t r = 0; r < recordings.size(); ++r) {
        auto& pressure = pressures.emplace_back();
        for (std::size_t f = 0; f < frequency.size(); ++f) {
            Complex p = 0;
            bool taken = false;  // a seat with two recordings stands twice among the sources
            for (std::size_t q = 0; q < sources.size(); ++q) {
                const bool placed = q < scenario.placed.subs.size();
                if (!plays(recordings[r], sources[q], placed) || (!placed && taken)) continue;
                p += z.at(f, r, q) * u(f, q);
                taken = !placed;
            }
            pressure.push_back(p);
        }
    }
    return pressures;
}

std::vector<std::vector<double>> levels_of(const Pressures& pressures) {
    std::vector<std::vector<double>> levels;
    for (const auto& pressure : pressures) {
        auto& level = levels.emplace_back();
        for (const Complex& p : pressure) level.push_back(level_db(std::norm(p)));
    }
    return levels;
}

}  // namespace boxroom
