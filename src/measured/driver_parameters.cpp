#include "measured/driver_parameters.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/error.hpp"
#include "base/number.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

// Where each number stands among the logarithms that everything follows from: four a curve, in the
// order of CircuitFit's covariance, then what was given.
constexpr int free_at = 0, boxed_at = 4, weighed_at = 8, volume_at = 12, mass_at = 13, sd_at = 14;
constexpr int places = 15;
constexpr int re = 0, motion = 1, resonance = 2, qm = 3;

/// Values that are uncertain together, as logarithms, and what follows from them.
class Logarithms {
  public:
    Logarithms()
        : at_(Eigen::VectorXd::Zero(places)), covariance_(Eigen::MatrixXd::Zero(places, places)) {}

    void curve(int place, const CircuitFit& fit) {
        const Circuit& c = fit.circuit;
        at_.segment<4>(place) << std::log(c.re), std::log(c.motion), std::log(c.resonance),
            std::log(c.qm);
        covariance_.block<4, 4>(place, place) = fit.covariance.topLeftCorner<4, 4>();
        freedom_ = std::min(freedom_, fit.freedom);
    }
    void given(int place, double value, double doubt) {
        at_[place] = std::log(value);
        covariance_(place, place) = doubt * doubt;
    }

    /// exp of a function of the logarithms, with its doubt to first order.
    Interval of(const std::function<double(const Eigen::VectorXd&)>& log_value) const {
        const double centre = log_value(at_),
                     wide = student_90(freedom_) * std::sqrt(variance(log_value));
        return {std::exp(centre - wide), std::exp(centre), std::exp(centre + wide)};
    }
    double variance(const std::function<double(const Eigen::VectorXd&)>& log_value) const {
        constexpr double step = 1e-5;
        Eigen::VectorXd slope(places);
        for (int i = 0; i < places; ++i) {
            Eigen::VectorXd up = at_, down = at_;
            up[i] += step, down[i] -= step;
            slope[i] = (log_value(up) - log_value(down)) / (2 * step);
        }
        return slope.dot(covariance_ * slope);
    }
    const Eigen::VectorXd& at() const { return at_; }
    double freedom() const { return freedom_; }

  private:
    Eigen::VectorXd at_;
    Eigen::MatrixXd covariance_;
    double freedom_ = 1e6;
};

using V = Eigen::VectorXd;

double log_qe(const V& x, int curve) {
    return x[curve + qm] + x[curve + re] - x[curve + motion];
}
double log_qt(const V& x, int curve) {
    return x[curve + qm] - std::log1p(std::exp(x[curve + motion] - x[curve + re]));
}
/// ln of stiffness x constant: f Qm/Res = k/(2 pi Bl^2) (Qm = 2 pi f M/R, Res = Bl^2/R).
double log_stiffness(const V& x, int curve) {
    return x[curve + resonance] + x[curve + qm] - x[curve + motion];
}
/// ln of mass x constant: Qm/(f Res) = 2 pi M/Bl^2.
double log_mass(const V& x, int curve) {
    return x[curve + qm] - x[curve + motion] - x[curve + resonance];
}

double log_mms(const V& x) {
    return x[mass_at] -
           std::log(std::expm1(2 * (x[free_at + resonance] - x[weighed_at + resonance])));
}
double log_cms(const V& x) {
    return -2 * (std::log(2 * pi) + x[free_at + resonance]) - log_mms(x);
}
double log_bl(const V& x) {  // Bl^2 = 2 pi fs Mms Res/Qms
    return 0.5 * (std::log(2 * pi) + x[free_at + resonance] + log_mms(x) + x[free_at + motion] -
                  x[free_at + qm]);
}
double log_vas_by_volume(const V& x) {
    return x[volume_at] +
           std::log(std::expm1(log_stiffness(x, boxed_at) - log_stiffness(x, free_at)));
}

Interval inductance(const CircuitFit& fit) {
    const double wide = student_90(fit.freedom) * std::sqrt(std::max(fit.covariance(4, 4), 0.0));
    return {std::max(0.0, fit.circuit.le - wide), fit.circuit.le, fit.circuit.le + wide};
}

void require_moved(const DriverCurves& c) {
    if (c.boxed && !(c.boxed->circuit.resonance > 1.02 * c.free.circuit.resonance))
        throw Error("--boxed",
                    "the resonance in the box (" + number(c.boxed->circuit.resonance, 1) +
                        " Hz) is not above that in free air (" +
                        number(c.free.circuit.resonance, 1) + " Hz)",
                    "name the free-air curve first; is the box tight?");
    if (c.weighed && !(c.weighed->circuit.resonance < 0.98 * c.free.circuit.resonance))
        throw Error("--weighed",
                    "the added mass moved the resonance from " +
                        number(c.free.circuit.resonance, 1) + " to " +
                        number(c.weighed->circuit.resonance, 1) + " Hz, too little to tell",
                    "name the free-air curve first; add about half the moving mass");
}

void add_by_mass(const DriverCurves& curves, double air_stiffness, const Logarithms& logs,
                 DriverParameters& p) {
    p.mms = logs.of(log_mms), p.cms = logs.of(log_cms), p.bl = logs.of(log_bl);
    // The Qs say by how much the mass grew as well.
    const V& x = logs.at();
    const auto by_q = [](const V& v) { return log_mass(v, weighed_at) - log_mass(v, free_at); };
    const auto by_f = [](const V& v) {
        return 2 * (v[free_at + resonance] - v[weighed_at + resonance]);
    };
    const auto differ = [&](const V& v) { return by_q(v) - by_f(v); };
    const double apart = differ(x);
    if (std::abs(apart) > 0.1 && std::abs(apart) > 3 * std::sqrt(logs.variance(differ)))
        p.notes.push_back("with the mass on, the resonance and its height disagree by " +
                          number(100 * std::abs(std::expm1(apart)), 0) +
                          " %: the mass may have been loose, or the level too high");
    if (curves.sd)
        p.vas_by_mass = logs.of(
            [&](const V& v) { return std::log(air_stiffness) + 2 * v[sd_at] + log_cms(v); });
    else if (curves.boxed)
        p.sd = logs.of([&](const V& v) {
            return 0.5 * (log_vas_by_volume(v) - std::log(air_stiffness) - log_cms(v));
        });
    else
        p.notes.push_back("for Vas the added mass needs the cone's area: give --sd");
}

/// Of the two ways: the mean of their logarithms, each by its certainty.
void settle_vas(double air_stiffness, const Logarithms& logs, DriverParameters& p) {
    p.vas = p.vas_by_volume ? p.vas_by_volume : p.vas_by_mass;
    if (!p.vas_by_volume || !p.vas_by_mass) return;
    const auto by_mass = [&](const V& v) {
        return std::log(air_stiffness) + 2 * v[sd_at] + log_cms(v);
    };
    const double one = logs.variance(log_vas_by_volume), other = logs.variance(by_mass);
    const double share = other / (one + other);
    p.vas = logs.of(
        [&](const V& v) { return share * log_vas_by_volume(v) + (1 - share) * by_mass(v); });
    const auto differ = [&](const V& v) { return log_vas_by_volume(v) - by_mass(v); };
    const double apart = differ(logs.at());
    if (std::abs(apart) > 1.96 * std::sqrt(logs.variance(differ)) && std::abs(apart) > 0.03)
        p.notes.push_back("Vas by the box and by the mass differ by " +
                          number(100 * std::abs(std::expm1(apart)), 0) +
                          " %: look for a leak, a filled box, or a wrong --sd");
}

}  // namespace

DriverParameters driver_parameters(const DriverCurves& curves, const Air& air) {
    require_moved(curves);
    Logarithms logs;
    logs.curve(free_at, curves.free);
    if (curves.boxed) logs.curve(boxed_at, *curves.boxed);
    if (curves.weighed) logs.curve(weighed_at, *curves.weighed);
    if (curves.box_volume) logs.given(volume_at, *curves.box_volume, given_doubt::volume);
    if (curves.added_mass) logs.given(mass_at, *curves.added_mass, given_doubt::mass);
    if (curves.sd) logs.given(sd_at, *curves.sd, given_doubt::sd);

    DriverParameters p;
    p.fs = logs.of([](const V& v) { return v[free_at + resonance]; });
    p.qms = logs.of([](const V& v) { return v[free_at + qm]; });
    p.qes = logs.of([](const V& v) { return log_qe(v, free_at); });
    p.qts = logs.of([](const V& v) { return log_qt(v, free_at); });
    p.re = logs.of([](const V& v) { return v[free_at + re]; });
    p.le = inductance(curves.free);
    p.semi = curves.free.circuit.semi;
    p.le_at_100_hz = curves.free.circuit.inductance_at(100);
    const double air_stiffness = air.density * air.speed_of_sound * air.speed_of_sound;
    if (curves.boxed) {
        if (!(log_stiffness(logs.at(), boxed_at) > log_stiffness(logs.at(), free_at) + 1e-3))
            throw Error("--boxed", "the box made the cone's spring no stiffer",
                        "measure the same driver, in a tight and empty box");
        p.vas_by_volume = logs.of(log_vas_by_volume);
    }
    if (curves.weighed) add_by_mass(curves, air_stiffness, logs, p);
    settle_vas(air_stiffness, logs, p);
    if (curves.free.scatter > 0.03)
        p.notes.push_back("the curve scatters by " + number(100 * curves.free.scatter, 0) +
                          " % about the circuit: measure again with less noise");
    return p;
}

FinishedBox finished_box(const CircuitFit& boxed, double wanted_qtc) {
    Logarithms logs;
    logs.curve(free_at, boxed);
    FinishedBox box;
    box.fc = logs.of([](const V& v) { return v[free_at + resonance]; });
    box.qmc = logs.of([](const V& v) { return v[free_at + qm]; });
    box.qec = logs.of([](const V& v) { return log_qe(v, free_at); });
    box.qtc = logs.of([](const V& v) { return log_qt(v, free_at); });
    box.re = logs.of([](const V& v) { return v[free_at + re]; });
    box.le = inductance(boxed);
    const double off = box.qtc.best / wanted_qtc - 1;
    const std::string found =
        "Qtc is " + number(box.qtc.best, 2) + ", wanted is " + number(wanted_qtc, 2) + ": ";
    if (std::abs(off) < 0.03 || (wanted_qtc > box.qtc.low && wanted_qtc < box.qtc.high))
        box.advice = found + "leave the filling as it is";
    else if (off > 0.2)
        box.advice =
            found + "add filling; it may not be enough, since it lowers Qtc by a sixth at most";
    else if (off > 0)
        box.advice = found + "add filling";
    else
        box.advice = found + "take out filling, or make the box smaller if there is none";
    return box;
}

}  // namespace boxroom
