#include "measured/fit_elements.hpp"

#include <algorithm>
#include <memory>
#include <random>

#include "measured/fit_variant.hpp"
#include "measured/interval.hpp"
#include "measured/predicted.hpp"
#include "solvers/solved_rooms.hpp"
#include "solvers/stretched_room.hpp"

namespace boxroom {
namespace {

/// The room with every surface and what stands in it at one end of its prior's 90 %.
Room at_end(const FitParameters& parameters, double end) {
    Eigen::VectorXd x = Eigen::VectorXd::Zero(parameters.size());
    for (std::size_t p = 0; p < parameters.all().size(); ++p) {
        const auto kind = parameters.all()[p].kind;
        if (kind == FitParameter::Kind::wall) x[static_cast<Eigen::Index>(p)] = end;
        if (kind == FitParameter::Kind::contents) x[static_cast<Eigen::Index>(p)] = -end;
    }
    return parameters.state(x).scenario.acoustics.room;
}

/// States as the priors have them, and some that a fit strays to.
std::vector<FitState> examples(const FitParameters& parameters) {
    constexpr int count = 18;
    std::mt19937 random(1);
    std::normal_distribution<double> normal(0, 1.3);
    std::vector<FitState> all;
    for (int n = 0; n < count; ++n) {
        Eigen::VectorXd x(parameters.size());
        for (double& one : x) one = normal(random);
        all.push_back(parameters.state(x));
    }
    return all;
}

VariedRoom learnt(const Scenario& scenario, const FitParameters& parameters,
                  const std::vector<Recording>& recordings, std::span<const double> frequency) {
    const Acoustics& a = scenario.acoustics;
    const auto solved = a.solver.solved ? a.solver.solved : std::make_shared<SolvedRooms>();
    const std::vector<FitState> states = examples(parameters);
    std::vector<Point> places;
    for (const PlacedSub& source : sources_of_recordings(scenario, recordings))
        places.push_back(source.at);
    for (const Recording& recording : recordings) places.push_back(recording.at);
    for (const Recording& recording : states.front().recordings) places.push_back(recording.at);
    const std::vector<Recording> next = next_places(scenario);
    std::vector<RoomVariant> variants;
    for (std::size_t n = 0; n < states.size(); ++n) {
        RoomVariant& one = variants.emplace_back(fit_variant(states[n], a.air.speed_of_sound));
        const Stretch by = stretch_between(a.room, one.room);
        for (std::size_t k = n % 4; k < next.size(); k += 4)
            one.receivers.push_back(stretched(next[k].at, by));
    }
    // Its speed of sound is the file's: the band must hold what other air moves into it.
    const std::vector<Room> others{at_end(parameters, z90), at_end(parameters, -z90)};
    return {solved->varied(a.room, a.air, 1.02 * std::ranges::max(frequency), others, places),
            a.air, frequency, variants};
}

}  // namespace

std::vector<Recording> next_places(const Scenario& scenario) {
    std::vector<Recording> all;
    const Room& room = scenario.acoustics.room;
    const double height = scenario.seats.empty() ? 1.1 : scenario.seats.front().at.z;
    for (const PlacedSub& sub : scenario.placed.subs)
        for (const double x : {0.03, 0.25, 0.5, 0.75, 0.97})
            for (const double y : {0.03, 0.25, 0.5, 0.75, 0.97}) {
                Recording one;
                one.name = "next", one.sub = sub.name;
                one.at = {x * room.width, y * room.length, std::min(height, room.height)};
                if (in_air(room, one.at)) all.push_back(one);
            }
    return all;
}

FitElements::FitElements(const Scenario& scenario, const FitParameters& parameters,
                         const std::vector<Recording>& recordings,
                         std::span<const double> frequency)
    : sound_(scenario.acoustics.air.speed_of_sound),
      room_(learnt(scenario, parameters, recordings, frequency)) {}

std::vector<TransferImpedance<double>> FitElements::transfer(
    std::span<const FitState> states) const {
    std::vector<RoomVariant> variants;
    for (const FitState& state : states) variants.push_back(fit_variant(state, sound_));
    std::vector<TransferImpedance<double>> all;
    for (const TransferImpedance<float>& from : room_.transfer(variants)) {
        auto& to = all.emplace_back(from.frequencies, from.receivers, from.sources);
        std::copy(from.value.begin(), from.value.end(), to.value.begin());
    }
    return all;
}

}  // namespace boxroom
