#include "measured/room_misfit.hpp"

#include <algorithm>
#include <cmath>

#include "base/levels.hpp"
#include "base/parallel.hpp"
#include "measured/recording_names.hpp"
#include "solvers/dense_algebra.hpp"

namespace boxroom {
namespace {

using Eigen::Index;

constexpr double a_little = 0.03;  ///< of a parameter, in its prior's standard deviations

/// Smooths levels on the fit's even grid. Points that are not trusted stay out.
std::vector<double> smoothed_level(const std::vector<double>& level,
                                   const std::vector<char>& trusted) {
    std::vector<double> out(level.size());
    for (std::size_t i = 0; i < level.size(); ++i) {
        double sum = 0, all = 0;
        for (int k = -2; k <= 2; ++k) {
            const auto at = static_cast<std::ptrdiff_t>(i) + k;
            if (at < 0 || at >= static_cast<std::ptrdiff_t>(level.size())) continue;
            if (!trusted[static_cast<std::size_t>(at)]) continue;
            const double share = smoothing_shares[k + 2];
            sum += share * power_of_db(level[static_cast<std::size_t>(at)]);
            all += share;
        }
        out[i] = all > 0 ? 10 * std::log10(std::max(sum / all, 1e-40)) : level[i];
    }
    return out;
}

}  // namespace

RoomMisfit::RoomMisfit(const FitQuestion& question, const FitParameters& parameters)
    : question_(question), parameters_(parameters), frequency_(fit_grid(question.scenario)) {
    for (const HeardCurve& curve : question.heard) {
        smooth_.push_back(curve);
        smooth_.back().level_db = smoothed_level(curve.level_db, curve.trusted);
    }
    used_.assign(smooth_.size(), 1);
    if (!question.scenario.acoustics.room.is_rectangle()) {
        std::vector<Recording> recordings;
        for (const HeardCurve& curve : question.heard) recordings.push_back(curve.recording);
        elements_ =
            std::make_shared<FitElements>(question.scenario, parameters, recordings, frequency_);
    }
    band_weight_ = log_mean_weights(frequency_, question.scenario.judgement.target.band);
}

std::vector<std::vector<double>> RoomMisfit::levels(const FitState& state) const {
    return levels(std::span(&state, 1)).front();
}

std::vector<RoomMisfit::Levels> RoomMisfit::levels(std::span<const FitState> states) const {
    return heard(states, solved(states));
}

/// Of rooms that are no closed rectangle; of others nothing.
std::vector<TransferImpedance<double>> RoomMisfit::solved(std::span<const FitState> states) const {
    if (elements_) return elements_->transfer(states);
    if (!parameters_.furniture_wall()) return {};
    if (!blocked_ || !blocked_->stands_as(states.front()))
        blocked_ = std::make_shared<FitBlocked>(states.front(), question_.scenario.acoustics.air,
                                                frequency_);
    return blocked_->transfer(states);
}

std::vector<RoomMisfit::Levels> RoomMisfit::heard(
    std::span<const FitState> states, const std::vector<TransferImpedance<double>>& z) const {
    std::vector<Levels> all;
    for (std::size_t n = 0; n < states.size(); ++n) {
        Levels levels = levels_of(pressures(states[n], z.empty() ? nullptr : &z[n]));
        for (auto& level : levels)
            level = smoothed_level(level, std::vector<char>(level.size(), 1));
        all.push_back(std::move(levels));
    }
    return all;
}

Pressures RoomMisfit::pressures(const FitState& state, const TransferImpedance<double>* z) const {
    const FitQuestion& q = question_;
    Scenario scenario = state.scenario;
    scenario.acoustics.frequency = frequency_;
    Pressures all = z ? predicted_pressures(scenario, q.driver, q.box, state.recordings, *z)
                      : predicted_pressures(scenario, q.driver, q.box, state.recordings);
    ClosedBox other = q.box;
    other.fc *= state.fc_factor, other.qtc *= state.qtc_factor;
    for (std::size_t f = 0; f < frequency_.size(); ++f) {
        const auto change = other.response(frequency_[f]) / q.box.response(frequency_[f]);
        for (auto& pressure : all) pressure[f] *= change;
    }
    return all;
}

Pressures RoomMisfit::pressures(const Eigen::VectorXd& x) const {
    const FitState state = parameters_.state(x);
    const auto z = solved(std::span(&state, 1));
    return pressures(state, z.empty() ? nullptr : z.data());
}

std::vector<std::vector<double>> RoomMisfit::levels(const Eigen::VectorXd& x) const {
    if (!last_ || last_->first != x) last_.emplace(x, levels(parameters_.state(x)));
    return last_->second;
}

double RoomMisfit::certainty(std::size_t r, std::size_t f) const {
    if (!smooth_[r].trusted[f]) return 0;
    const double noise = smooth_[r].doubt_db[f];
    return 1 / (noise * noise + discrepancy_.db * discrepancy_.db);
}

double RoomMisfit::weight(std::size_t r, std::size_t f) const {
    return used_[r] ? certainty(r, f) : 0;
}

double RoomMisfit::gain(std::size_t r, const std::vector<double>& predicted) const {
    if (smooth_[r].absolute) return 0;
    double sum = 0, all = 0;
    for (std::size_t f = 0; f < predicted.size(); ++f) {
        const double w = certainty(r, f);
        if (w == 0) continue;
        sum += w * (smooth_[r].level_db[f] - predicted[f]);
        all += w;
    }
    return all > 0 ? sum / all : 0;
}

Eigen::VectorXd RoomMisfit::data_residuals(const std::vector<std::vector<double>>& all) const {
    const std::size_t points = frequency_.size();
    Eigen::VectorXd out(static_cast<Index>(all.size() * points));
    for (std::size_t r = 0; r < all.size(); ++r) {
        const double by = gain(r, all[r]);
        for (std::size_t f = 0; f < points; ++f)
            out[static_cast<Index>(r * points + f)] =
                std::sqrt(weight(r, f) / discrepancy_.alike_points) *
                (all[r][f] + by - smooth_[r].level_db[f]);
    }
    return out;
}

Eigen::VectorXd RoomMisfit::residuals(const Eigen::VectorXd& x) const {
    const Eigen::VectorXd data = data_residuals(levels(x));
    Eigen::VectorXd out(data.size() + x.size());
    out << data, x;
    return out;
}

std::vector<Eigen::VectorXd> RoomMisfit::residuals_apart(std::span<const FitState> states) const {
    std::vector<TransferImpedance<double>> z(states.size());
    for_each_in_parallel(states.size(), 1, [&](std::size_t n) {
        const FitBlocked alone(states[n], question_.scenario.acoustics.air, frequency_, -1);
        z[n] = alone.transfer(states.subspan(n, 1)).front();
    });
    std::vector<Eigen::VectorXd> all;
    for (const Levels& one : heard(states, z)) all.push_back(data_residuals(one));
    return all;
}

double RoomMisfit::evidence(const Eigen::VectorXd& x, const Eigen::MatrixXd& information) const {
    double sum = residuals(x).squaredNorm();
    for (std::size_t r = 0; r < smooth_.size(); ++r)
        for (std::size_t f = 0; f < frequency_.size(); ++f)
            if (const double w = weight(r, f); w > 0)
                sum -= std::log(w) / discrepancy_.alike_points;
    return -0.5 * (sum + log_determinant(information.cast<std::complex<double>>()).real());
}

Eigen::MatrixXd RoomMisfit::slopes(const Eigen::VectorXd& x) const {
    const std::size_t points = frequency_.size();
    const auto data = static_cast<Index>(smooth_.size() * points);
    Eigen::MatrixXd out = Eigen::MatrixXd::Zero(data + x.size(), x.size());
    if (!beside_ || beside_->first != x) {
        std::vector<FitState> states{parameters_.state(x)};
        for (const auto& group : parameters_.groups()) {
            Eigen::VectorXd there = x;
            for (const std::size_t p : group) there[static_cast<Index>(p)] += a_little;
            states.push_back(parameters_.state(there));
        }
        beside_.emplace(x, levels(states));
    }
    const std::vector<Levels>& moved = beside_->second;
    const Eigen::VectorXd here = data_residuals(moved.front());
    for (std::size_t g = 0; g + 1 < moved.size(); ++g) {
        const Eigen::VectorXd change = (data_residuals(moved[g + 1]) - here) / a_little;
        for (const std::size_t p : parameters_.groups()[g])
            for (std::size_t r = 0; r < smooth_.size(); ++r)
                if (parameters_.touches(p, r))
                    out.block(static_cast<Index>(r * points), static_cast<Index>(p),
                              static_cast<Index>(points), 1) =
                        change.segment(static_cast<Index>(r * points), static_cast<Index>(points));
    }
    for (Index i = 0; i < x.size(); ++i) out(data + i, i) = 1;
    return out;
}

std::vector<Eigen::MatrixXd> RoomMisfit::level_slopes(
    const Eigen::VectorXd& x, const std::vector<Recording>& recordings) const {
    std::vector<FitState> states;
    const auto add = [&](const Eigen::VectorXd& where) {
        states.push_back(parameters_.state(where));
        states.back().recordings = recordings;
    };
    add(x);
    std::vector<std::size_t> of;
    for (std::size_t p = 0; p < parameters_.all().size(); ++p) {
        if (parameters_.all()[p].kind == FitParameter::Kind::microphone) continue;
        Eigen::VectorXd there = x;
        there[static_cast<Index>(p)] += a_little;
        add(there);
        of.push_back(p);
    }
    const auto all = levels(states);
    std::vector<Eigen::MatrixXd> out(
        recordings.size(), Eigen::MatrixXd::Zero(static_cast<Index>(frequency_.size()), x.size()));
    for (std::size_t n = 0; n < of.size(); ++n)
        for (std::size_t r = 0; r < recordings.size(); ++r)
            for (std::size_t f = 0; f < frequency_.size(); ++f)
                out[r](static_cast<Index>(f), static_cast<Index>(of[n])) =
                    (all[n + 1][r][f] - all[0][r][f]) / a_little;
    return out;
}

std::optional<RecordingTiming> RoomMisfit::timing(
    std::size_t r, const std::vector<std::complex<double>>& predicted) const {
    return recording_timing(question_.heard[r], predicted, band_weight_);
}

Discrepancy RoomMisfit::discrepancy_at(const Eigen::VectorXd& x, double told) const {
    auto off = levels(x);
    double count = 0, gains = 0;
    for (std::size_t r = 0; r < off.size(); ++r) {
        const double by = gain(r, off[r]);
        for (std::size_t f = 0; f < frequency_.size(); ++f) {
            const bool counts = weight(r, f) > 0;
            off[r][f] = counts ? off[r][f] + by - smooth_[r].level_db[f] : 0;
            count += counts ? 1 : 0;
        }
        gains += used_[r] && !smooth_[r].absolute ? 1 : 0;
    }
    return discrepancy_of(off, count, gains + told);
}

double RoomMisfit::band_misfit(std::size_t r, const std::vector<double>& predicted) const {
    const double by = smooth_[r].absolute ? 0 : best_offset(smooth_[r], predicted, band_weight_);
    return apart_db(smooth_[r], predicted, band_weight_, by);
}

double RoomMisfit::seat_misfit(const std::string& place,
                               const std::vector<std::vector<double>>& predicted) const {
    double sum = 0;
    int count = 0;
    for (std::size_t r = 0; r < predicted.size(); ++r) {
        if (recording_place(smooth_[r].recording) != place) continue;
        const double off = band_misfit(r, predicted[r]);
        if (std::isnan(off)) continue;
        sum += off * off, ++count;
    }
    return count > 0 ? std::sqrt(sum / count) : 0;
}

}  // namespace boxroom
