#include "measured/impedance.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <optional>
#include <vector>

#include "base/error.hpp"
#include "base/number.hpp"
#include "measured/least_squares.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

constexpr std::size_t fewest_points = 8;

/// Le and K are searched as numbers of about 1, since they may be nothing; all else by logarithm.
constexpr double le_unit = 1e-3, semi_unit = 2e-2;

enum class Coil { inductive, both, semi };

Circuit circuit_at(const Eigen::VectorXd& x, Coil coil) {
    Circuit c{std::exp(x[0]), std::exp(x[1]), std::exp(x[2]), std::exp(x[3]), 0, 0};
    if (coil != Coil::semi) c.le = x[4] * le_unit;
    if (coil != Coil::inductive) c.semi = x[coil == Coil::both ? 5 : 4] * semi_unit;
    return c;
}

double turned(double angle) {
    return std::remainder(angle, 2 * pi);
}

/// sqrt of each point's share of the axis of ln f, of mean square 1: files spaced evenly in Hz
/// shall not be fitted at their upper end alone.
Eigen::VectorXd root_weights(const std::vector<double>& f) {
    const auto n = static_cast<Eigen::Index>(f.size());
    Eigen::VectorXd w(n);
    for (Eigen::Index i = 0; i < n; ++i) {
        const double below = f[static_cast<std::size_t>(std::max<Eigen::Index>(i - 1, 0))];
        const double above = f[static_cast<std::size_t>(std::min(i + 1, n - 1))];
        w[i] = std::min(std::log(above / below), 0.5);
    }
    return (w / w.mean()).cwiseSqrt();
}

/// What is fitted, and the residuals of a circuit.
class Fitted {
  public:
    explicit Fitted(const Curve& curve) : curve_(curve), weight_(root_weights(curve.frequency)) {}

    Eigen::VectorXd residuals(const Circuit& c, bool weighted) const {
        const auto n = static_cast<Eigen::Index>(curve_.frequency.size());
        Eigen::VectorXd r(curve_.has_phase() ? 2 * n : n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const auto at = static_cast<std::size_t>(i);
            const auto z = c.impedance(curve_.frequency[at]);
            const double w = weighted ? weight_[i] : 1;
            r[i] = w * std::log(std::abs(z) / curve_.value[at]);
            if (curve_.has_phase()) r[n + i] = w * turned(std::arg(z) - curve_.phase[at]);
        }
        return r;
    }

    LeastSquares fit(const Eigen::VectorXd& start, Coil coil) const {
        return least_squares(of(coil), start);
    }
    Eigen::MatrixXd slopes(const Eigen::VectorXd& x, Coil coil) const {
        return slopes_by_difference(of(coil), x);
    }
    const Eigen::VectorXd& root_weight() const { return weight_; }

  private:
    Residuals of(Coil coil) const {
        return
            [this, coil](const Eigen::VectorXd& x) { return residuals(circuit_at(x, coil), true); };
    }

    const Curve& curve_;
    Eigen::VectorXd weight_;
};

/// The mean of neighbours over a sixth of an octave, in ln|Z|: noise has peaks of its own.
std::vector<double> smoothed(const Curve& c) {
    std::vector<double> out(c.value.size());
    const double reach = std::exp2(1.0 / 12);
    for (std::size_t i = 0, low = 0, high = 0; i < out.size(); ++i) {
        while (c.frequency[low] * reach < c.frequency[i]) ++low;
        while (high < out.size() && c.frequency[high] <= c.frequency[i] * reach) ++high;
        double sum = 0;
        for (std::size_t k = low; k < high; ++k) sum += std::log(c.value[k]);
        out[i] = std::exp(sum / static_cast<double>(high - low));
    }
    return out;
}

/// The peak of the curve: not at either end, and with lower ground on both sides.
std::size_t peak_of(const Curve& curve, const std::vector<double>& smooth,
                    const std::string& name) {
    std::size_t best = 0;
    double best_rise = 0;
    for (std::size_t i = 1; i + 1 < smooth.size(); ++i) {
        const double left =
            *std::min_element(smooth.begin(), smooth.begin() + static_cast<long>(i));
        const double right =
            *std::min_element(smooth.begin() + static_cast<long>(i) + 1, smooth.end());
        const double rise = smooth[i] / std::max(left, right);
        if (rise > best_rise) best = i, best_rise = rise;
    }
    if (best_rise < 1.05)
        throw Error(name,
                    "there is no resonance in this curve: no peak with lower ground on both sides",
                    "measure from about 5 Hz to at least four times the resonance");
    if (curve.frequency[best] > 1000)
        throw Error(name, "the peak lies above 1000 Hz, which is no subwoofer's resonance",
                    "check the unit of frequency_hz");
    return best;
}

/// A first guess: the peak's height and its width where |Z| = sqrt(Re Zmax) (Small 1972, sec. 8).
Eigen::VectorXd first_guess(const Curve& curve, const std::vector<double>& smooth,
                            std::size_t peak) {
    const double re = *std::min_element(smooth.begin(), smooth.end());
    const double top = smooth[peak], level = std::sqrt(re * top);
    std::size_t low = peak, high = peak;
    while (low > 0 && smooth[low] > level) --low;
    while (high + 1 < smooth.size() && smooth[high] > level) ++high;
    const double fr = curve.frequency[peak];
    const double width = std::max(curve.frequency[high] - curve.frequency[low], 0.02 * fr);
    const double qm = std::clamp(fr / width * std::sqrt(top / re), 0.3, 50.0);
    Eigen::VectorXd x(5);
    x << std::log(re), std::log(std::max(top - re, 0.05 * re)), std::log(fr), std::log(qm), 0.5;
    return x;
}

/// The part of the curve that the circuit is made for.
Curve near_resonance(const Curve& whole, double resonance) {
    const double highest = std::max(1000.0, 20 * resonance);
    Curve near;
    for (std::size_t i = 0; i < whole.frequency.size() && whole.frequency[i] <= highest; ++i) {
        near.frequency.push_back(whole.frequency[i]);
        near.value.push_back(whole.value[i]);
        if (whole.has_phase()) near.phase.push_back(whole.phase[i]);
    }
    return near;
}

/// By how much neighbours that err alike make the points count for less: (1 + r)/(1 - r) of the
/// residuals' correlation r from one to the next (Bartlett, JRSS 98, 1935).
double alike(const Eigen::VectorXd& r) {
    const double all = r.squaredNorm();
    if (!(all > 0)) return 1;
    const double step = r.head(r.size() - 1).dot(r.tail(r.size() - 1)) / all;
    return std::max(1.0, (1 + std::min(step, 0.95)) / (1 - std::min(step, 0.95)));
}

/// Of weighted least squares where every point scatters alike: A s^2 B A, A = (J'J)^-1 of the
/// weighted slopes J and B = (J'W J) (White, Econometrica 48, 1980, with one variance).
Eigen::MatrixXd covariance_of(const Eigen::MatrixXd& j, const Eigen::VectorXd& weight,
                              double variance) {
    Eigen::MatrixXd weighted = j;
    for (Eigen::Index i = 0; i < j.rows(); ++i) weighted.row(i) *= weight[i % weight.size()];
    const Eigen::MatrixXd normal = j.transpose() * j;
    const Eigen::MatrixXd inverse =
        normal.ldlt().solve(Eigen::MatrixXd::Identity(normal.rows(), normal.cols()));
    return variance * inverse * (weighted.transpose() * weighted) * inverse;
}

struct Candidate {
    Coil coil;
    LeastSquares found;
    double cost = 0;  ///< Schwarz's criterion
};

/// Le may not be negative, nor K: such a fit says that the other serves.
bool possible(const Candidate& c) {
    const Circuit circuit = circuit_at(c.found.at, c.coil);
    return circuit.le >= 0 && circuit.semi >= 0;
}

Candidate best_of(const Fitted& fitted, const Eigen::VectorXd& guess, std::size_t points) {
    std::optional<Candidate> best;
    for (const Coil coil : {Coil::inductive, Coil::both, Coil::semi}) {
        for (const double steeper : {1.0, 0.4, 2.5}) {
            Eigen::VectorXd start = guess;
            start[3] += std::log(steeper);
            if (coil == Coil::both) {
                start.conservativeResize(6);
                start[5] = 0.5;
            }
            Candidate c{coil, fitted.fit(start, coil), 0};
            const auto n = static_cast<double>(points);
            c.cost = n * std::log(c.found.sum() / n + 1e-14) +
                     static_cast<double>(start.size()) * std::log(n);
            if (possible(c) && (!best || c.cost < best->cost)) best = c;
        }
    }
    if (!best) {  // a curve that falls at its upper end has no coil in it: Le as nothing
        Candidate c{Coil::inductive, fitted.fit(guess, Coil::inductive), 0};
        return c;
    }
    return *best;
}

}  // namespace

std::complex<double> Circuit::impedance(double frequency) const {
    const std::complex<double> j{0, 1}, s = j * (2 * pi * frequency);
    return re + s * le + semi * std::sqrt(s) +
           motion / (1.0 + j * qm * (frequency / resonance - resonance / frequency));
}

double Circuit::inductance_at(double frequency) const {
    return le + semi / std::sqrt(2 * (2 * pi * frequency));
}

CircuitFit fit_circuit(const Curve& curve, const std::string& name) {
    if (curve.frequency.size() < fewest_points)
        throw Error(name, "there are only " + std::to_string(curve.frequency.size()) + " points",
                    "measure at ten or more, most of them near the resonance");
    const auto smooth = smoothed(curve);
    const std::size_t peak = peak_of(curve, smooth, name);
    CircuitFit fit;
    fit.used = near_resonance(curve, curve.frequency[peak]);
    if (fit.used.frequency.size() < fewest_points)
        throw Error(name, "too few points lie near the resonance", "measure at ten or more there");
    const Fitted fitted(fit.used);
    const std::size_t points = fit.used.frequency.size() * (fit.used.has_phase() ? 2 : 1);
    const Candidate best = best_of(fitted, first_guess(curve, smooth, peak), points);
    fit.circuit = circuit_at(best.found.at, best.coil);
    fit.circuit.le = std::max(fit.circuit.le, 0.0);

    const Eigen::VectorXd plain = fitted.residuals(fit.circuit, false);
    fit.freedom = static_cast<double>(plain.size() - best.found.at.size());
    fit.scatter = std::sqrt(plain.squaredNorm() / static_cast<double>(plain.size()));
    if (!best.found.at.allFinite() || fit.scatter > 0.15 || fit.circuit.qm > 200 ||
        fit.circuit.resonance < curve.frequency.front() ||
        fit.circuit.resonance > curve.frequency.back())
        throw Error(name,
                    "no driver with a single resonance fits this curve (it is off by " +
                        number(100 * std::min(fit.scatter, 9.99), 0) + " % of |Z|)",
                    "measure the driver alone, or in a closed box; check the columns' units");
    const double variance = plain.squaredNorm() / fit.freedom *
                            alike(plain.head(static_cast<Eigen::Index>(fit.used.frequency.size())));
    const Eigen::MatrixXd all =
        covariance_of(fitted.slopes(best.found.at, best.coil), fitted.root_weight(), variance);
    fit.covariance = all.topLeftCorner(5, 5);
    if (best.coil == Coil::semi) {  // the fifth was K
        fit.covariance.row(4).setZero();
        fit.covariance.col(4).setZero();
    }
    fit.covariance.row(4) *= le_unit;
    fit.covariance.col(4) *= le_unit;
    return fit;
}

}  // namespace boxroom
