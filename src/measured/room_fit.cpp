#include "measured/room_fit.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "base/clock.hpp"
#include "base/error.hpp"
#include "measured/fit_elements.hpp"
#include "measured/fit_remarks.hpp"
#include "measured/fit_solution.hpp"
#include "measured/furniture_search.hpp"
#include "measured/recording_names.hpp"
#include "measured/room_misfit.hpp"

namespace boxroom {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

void require_data(const FitQuestion& q) {
    if (q.heard.empty())
        throw Error(q.scenario.title, "the file has no [[recording]], so there is nothing to fit",
                    "play what `boxroom sweep` writes, record it at the seats, and name the files");
    for (const HeardCurve& curve : q.heard)
        if (!curve.any_trusted())
            throw Error(curve.recording.name, "nothing of it lies in the target band",
                        "record the whole sweep, or leave it out");
}

void tell_parameters(const FitParameters& parameters, const FitSolution& s, RoomFit& fit) {
    const MatrixXd covariance = s.covariance();
    for (std::size_t i = 0; i < parameters.all().size(); ++i) {
        const auto at = static_cast<Index>(i);
        const double wide = z90 * std::sqrt(std::max(covariance(at, at), 0.0));
        const auto interval = [&](double centre, double half) {
            const double a = parameters.value(i, centre - half),
                         b = parameters.value(i, centre + half);
            return Interval{std::min(a, b), parameters.value(i, centre), std::max(a, b)};
        };
        const FitParameter& p = parameters.all()[i];
        fit.parameters.push_back({p.kind, p.name, p.unit, interval(0, z90),
                                  interval(s.at[at], wide), p.prior * wide, wide < 0.5 * z90});
    }
    for (Index i = 0; i < s.at.size(); ++i)
        for (Index k = 0; k < i; ++k) {
            const double alike = covariance(i, k) / std::sqrt(covariance(i, i) * covariance(k, k));
            const auto told = [&](Index n) {
                return fit.parameters[static_cast<std::size_t>(n)].told_apart;
            };
            if (std::abs(alike) > 0.8 && !(told(i) && told(k)))
                fit.entangled.push_back({parameters.all()[static_cast<std::size_t>(k)].name,
                                         parameters.all()[static_cast<std::size_t>(i)].name});
        }
}

/// Seats in the order of their first recording; recordings elsewhere go by their own name.
std::vector<std::string> seat_names(const FitQuestion& q) {
    std::vector<std::string> names;
    for (const HeardCurve& curve : q.heard)
        if (std::find(names.begin(), names.end(), recording_place(curve.recording)) == names.end())
            names.push_back(recording_place(curve.recording));
    return names;
}

/// Each seat predicted by a fit to the others, its microphone where the file says.
void leave_out(const FitQuestion& q, const FitParameters& parameters, RoomMisfit misfit,
               const VectorXd& start, RoomFit& fit) {
    const auto names = seat_names(q);
    if (names.size() < 3) return;
    for (std::size_t n = 0; n < names.size(); ++n) {
        if (q.progress)
            q.progress("fitting without one seat after the other",
                       0.55 + 0.35 * static_cast<double>(n) / static_cast<double>(names.size()));
        std::vector<char> used;
        for (const HeardCurve& curve : q.heard)
            used.push_back(recording_place(curve.recording) != names[n]);
        VectorXd x = start;
        for (std::size_t p = 0; p < parameters.all().size(); ++p)
            for (std::size_t r = 0; r < used.size(); ++r)
                if (!used[r] && parameters.all()[p].kind == FitParameter::Kind::microphone &&
                    parameters.touches(p, r))
                    x[static_cast<Index>(p)] = 0;
        misfit.use(used);
        const LeastSquares s = likeliest(misfit, x, 6);
        const double before = fit.seats[n].before_db;
        fit.left_out.push_back(
            {names[n], before, misfit.seat_misfit(names[n], misfit.levels(s.at))});
    }
}

/// One standard deviation of each level after the fit, gains taken as found.
void tell_doubt(const FitSolution& s, const RoomMisfit& misfit, RoomFit& fit) {
    const MatrixXd covariance = s.covariance();
    const auto slopes = misfit.level_slopes(s.at, fit.state.recordings);
    for (const MatrixXd& j : slopes) {
        std::vector<double> doubt;
        const MatrixXd spread = j * covariance;
        for (Index f = 0; f < j.rows(); ++f)
            doubt.push_back(std::hypot(std::sqrt(std::max(spread.row(f).dot(j.row(f)), 0.0)),
                                       misfit.discrepancy().db));
        fit.doubt_db.push_back(std::move(doubt));
    }
}

/// The one that takes most of the summed variance of the seats' levels (A-optimal design; Chaloner
/// & Verdinelli, Statistical Science 10, 1995), in the linear problem.
void find_next(const FitQuestion& q, const FitSolution& s, const RoomMisfit& misfit, RoomFit& fit) {
    std::vector<Recording> seats;
    for (const Seat& seat : q.scenario.seats)
        for (const PlacedSub& sub : q.scenario.placed.subs) {
            Recording one;
            one.at = seat.at, one.sub = sub.name;
            seats.push_back(one);
        }
    const auto wanted = misfit.level_slopes(s.at, seats);
    MatrixXd importance = MatrixXd::Zero(s.at.size(), s.at.size());
    for (const MatrixXd& j : wanted) importance += j.transpose() * j;
    const auto doubt = [&](const MatrixXd& information) {
        return information.ldlt().solve(importance).trace();
    };
    const double now = doubt(s.information);
    const Discrepancy& left = misfit.discrepancy();
    const double variance = left.db * left.db * left.alike_points;
    const auto tried = next_places(fit.state.scenario);
    const auto slopes = misfit.level_slopes(s.at, tried);
    for (std::size_t c = 0; c < tried.size(); ++c) {
        MatrixXd j = slopes[c];
        j.rowwise() -= j.colwise().mean().eval();  // its gain is free
        const double share = 1 - doubt(s.information + j.transpose() * j / variance) / now;
        if (share > fit.next.share) fit.next = {tried[c].at, *tried[c].sub, share};
    }
}

/// Levels of these pressures as loud as the recordings are; `smooth` are the same, smoothed.
std::vector<std::vector<double>> as_loud(const RoomMisfit& misfit, const Pressures& pressures,
                                         const std::vector<std::vector<double>>& smooth) {
    auto levels = levels_of(pressures);
    for (std::size_t r = 0; r < levels.size(); ++r)
        for (double& level : levels[r]) level += misfit.gain(r, smooth[r]);
    return levels;
}

/// The room at its likeliest: what was found, and how far off it is at seats it has heard and
/// others.
RoomFit fitted(const FitQuestion& q, const FitParameters& parameters, const RoomMisfit& misfit,
               const FitSolution& s, const std::vector<SeatMisfit>& before) {
    RoomFit fit;
    fit.state = parameters.state(s.at);
    fit.settled = s.settled;
    fit.discrepancy_db = misfit.discrepancy().db;
    tell_parameters(parameters, s, fit);
    fit.seats = before;
    const auto after = misfit.levels(s.at);
    for (SeatMisfit& seat : fit.seats) seat.after_db = misfit.seat_misfit(seat.name, after);
    const Pressures pressures = misfit.pressures(s.at);
    fit.after_db = as_loud(misfit, pressures, after);
    for (std::size_t r = 0; r < q.heard.size(); ++r)
        fit.recordings.push_back({misfit.gain(r, after[r]), misfit.timing(r, pressures[r])});
    leave_out(q, parameters, misfit, s.at, fit);
    return fit;
}

bool helps(const RoomFit& fit) {
    return fit.left_out.empty() || mean_of(fit.left_out, &SeatMisfit::after_db) <
                                       mean_of(fit.left_out, &SeatMisfit::before_db);
}

}  // namespace

std::vector<double> fit_grid(const Scenario& scenario) {
    const Band target = scenario.judgement.target.band;
    const double beyond = std::exp2(1.0 / 3);
    const auto& asked = scenario.acoustics.frequency;
    const Band band{std::min(target.low, std::max(target.low / beyond, asked.front())),
                    std::max(target.high, std::min(target.high * beyond, asked.back()))};
    return logarithmic_grid(band, 48);
}

RoomFit fit_room(const FitQuestion& q) {
    require_data(q);
    std::vector<Recording> recordings;
    for (const HeardCurve& curve : q.heard) recordings.push_back(curve.recording);
    const FitParameters parameters(q.scenario, recordings);
    RoomMisfit bare(q, parameters);
    const VectorXd file = VectorXd::Zero(parameters.size());
    const auto before = bare.levels(file);
    std::vector<SeatMisfit> seats;
    for (const std::string& name : seat_names(q))
        seats.push_back({name, bare.seat_misfit(name, before), 0});

    // 1. The likeliest room, and with a piece of furniture where the data ask for one.
    const bool looked_for = q.look_for_furniture && q.scenario.acoustics.room.is_rectangle();
    const FitSolution without = fit_in_rounds(bare, file, [&](double share) {
        if (q.progress) q.progress("fitting the room", 0.02 + (looked_for ? 0.13 : 0.5) * share);
    });
    std::optional<Furnished> furnished;
    if (looked_for) furnished = find_furniture(q, recordings, bare, parameters, without);
    RoomFit fit;
    if (furnished) {
        fit = fitted(q, *furnished->parameters, *furnished->misfit, furnished->solution, seats);
        fit.furniture = {fit.state.scenario.acoustics.room.plan.blocks.back(),
                         *furnished->parameters->furniture_wall()};
        // What helps no seat that it has not heard is none.
        if (!helps(fit)) furnished.reset();
    }
    if (!furnished) fit = fitted(q, parameters, bare, without, seats);
    const RoomMisfit& misfit = furnished ? *furnished->misfit : bare;
    const FitSolution& s = furnished ? furnished->solution : without;
    fit.furniture_looked_for = looked_for;
    fit.before_db = as_loud(bare, bare.pressures(file), before);

    // 2. What is left unknown, and what would tell it.
    if (q.progress) q.progress("looking for the next measurement", 0.92);
    tell_doubt(s, misfit, fit);
    find_next(q, s, misfit, fit);
    add_remarks(q, misfit, s.at, fit);
    return fit;
}

double fit_seconds(const FitQuestion& q) {
    require_data(q);
    std::vector<Recording> recordings;
    for (const HeardCurve& curve : q.heard) recordings.push_back(curve.recording);
    const FitParameters parameters(q.scenario, recordings);
    const RoomMisfit misfit(q, parameters);
    const VectorXd file = VectorXd::Zero(parameters.size());
    const double start = seconds_now();
    static_cast<void>(misfit.slopes(file));
    const double between = seconds_now();
    FitState next = parameters.state(file);
    next.recordings = next_places(q.scenario);
    if (!next.recordings.empty()) static_cast<void>(misfit.levels(next));
    const double slopes = between - start, look = seconds_now() - between;
    const std::size_t seats = seat_names(q).size();
    constexpr double fitted = 12, left_out = 3;  // slopes: a fifth more than in trial rooms
    return slopes * (fitted + (seats < 3 ? 0 : left_out * static_cast<double>(seats))) +
           look * static_cast<double>(parameters.size());
}

}  // namespace boxroom
