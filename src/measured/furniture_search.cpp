#include "measured/furniture_search.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t followed = 3;                    ///< places from which least squares start
const double furniture_log_odds = std::log(20.0 * 4);  ///< 20 to 1, by one of four walls

/// Whether somebody sits, something sounds or a microphone stands in the block or nearer to it than
/// 5 cm.
bool in_the_way(const FitState& state) {
    const Block& block = state.scenario.acoustics.room.plan.blocks.back();
    constexpr double margin = 0.05;
    const auto covers = [&](const Point& p) {
        return p.x > block.from.x - margin && p.x < block.to.x + margin &&
               p.y > block.from.y - margin && p.y < block.to.y + margin &&
               p.z < block.to.z + margin;
    };
    const Scenario& s = state.scenario;
    return std::ranges::any_of(state.recordings, covers, &Recording::at) ||
           std::ranges::any_of(s.seats, covers, &Seat::at) ||
           std::ranges::any_of(s.placed.subs, covers, &PlacedSub::at) ||
           std::ranges::any_of(s.placed.mains, covers, &MainSpeaker::at);
}

struct Scored {
    FurnitureTry piece;
    double cost = 0;
};

/// What is left of each try when the room's other numbers may still follow, in the linear problem.
std::vector<Scored> screened(const FitQuestion& q, const RoomMisfit& bare,
                             const FitParameters& parameters, const FitSolution& without) {
    const FitState fitted = parameters.state(without.at);
    const Acoustics& a = fitted.scenario.acoustics;
    std::vector<Scored> tries;
    std::vector<FitState> states;
    for (FurnitureTry& one : furniture_to_try(a.room)) {
        FitState state = fitted;
        state.scenario.acoustics.room.plan.blocks.push_back(
            furniture_block(a.room, a.air, one.wall, one.numbers));
        if (in_the_way(state)) continue;
        states.push_back(std::move(state));
        tries.push_back({std::move(one)});
    }
    const MatrixXd slopes = bare.slopes(without.at);
    const MatrixXd data = slopes.topRows(slopes.rows() - without.at.size());
    const Eigen::LDLT<MatrixXd> factor(without.information);
    constexpr std::size_t together = 16;
    for (std::size_t n = 0; n < states.size(); n += together) {
        if (q.progress)
            q.progress("looking for furniture that the file lacks",
                       0.15 + 0.1 * static_cast<double>(n) / static_cast<double>(states.size()));
        const auto some = std::span(states).subspan(n, std::min(together, states.size() - n));
        const auto residuals = bare.residuals_apart(some);
        for (std::size_t i = 0; i < some.size(); ++i) {
            const VectorXd pull = data.transpose() * residuals[i] + without.at;
            tries[n + i].cost = residuals[i].squaredNorm() + without.at.squaredNorm() -
                                pull.dot(factor.solve(pull)) +
                                tries[n + i].piece.numbers.squaredNorm();
        }
    }
    std::ranges::sort(tries, {}, &Scored::cost);
    return tries;
}

/// The best, none of them a neighbour of a better one.
std::vector<FurnitureTry> best_apart(const Room& room, const std::vector<Scored>& tries) {
    std::vector<FurnitureTry> best;
    for (const Scored& one : tries) {
        const auto along = [&](const FurnitureTry& piece) {
            return furniture_number(room, piece.wall, 0).at(piece.numbers(0));
        };
        const bool near = std::ranges::any_of(best, [&](const FurnitureTry& other) {
            return other.wall == one.piece.wall && std::abs(along(other) - along(one.piece)) < 0.8;
        });
        if (!near) best.push_back(one.piece);
        if (best.size() == followed) break;
    }
    return best;
}

}  // namespace

std::optional<Furnished> find_furniture(const FitQuestion& q,
                                        const std::vector<Recording>& recordings,
                                        const RoomMisfit& bare, const FitParameters& parameters,
                                        const FitSolution& without) {
    Furnished best;
    double least = bare.residuals(without.at).squaredNorm() - 2 * furniture_log_odds;
    const auto starts =
        best_apart(q.scenario.acoustics.room, screened(q, bare, parameters, without));
    for (std::size_t n = 0; n < starts.size(); ++n) {
        if (q.progress)
            q.progress("looking for furniture that the file lacks",
                       0.25 + 0.15 * static_cast<double>(n) / static_cast<double>(followed));
        Furnished one;
        one.parameters = std::make_unique<FitParameters>(q.scenario, recordings, starts[n].wall);
        one.misfit = std::make_unique<RoomMisfit>(q, *one.parameters);
        one.misfit->set_discrepancy(bare.discrepancy());
        VectorXd start(one.parameters->size());
        start << without.at, starts[n].numbers;
        const LeastSquares found = likeliest(*one.misfit, start, 6);
        one.solution.at = found.at;
        const double cost = found.sum();
        if (cost < least) least = cost, best = std::move(one);
    }
    if (!best.misfit) return {};  // not even before the numbers are charged for
    best.solution = fit_in_rounds(*best.misfit, best.solution.at, [&](double share) {
        if (q.progress) q.progress("fitting the room with furniture", 0.4 + 0.15 * share);
    });
    if (in_the_way(best.parameters->state(best.solution.at))) return {};
    const double odds = best.misfit->evidence(best.solution.at, best.solution.information) -
                        bare.evidence(without.at, without.information);
    if (!(odds > furniture_log_odds)) return {};
    return best;
}

}  // namespace boxroom
