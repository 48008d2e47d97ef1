#include "woofer/closed_box.hpp"

#include <cmath>
#include <cstdio>
#include <numbers>

#include "base/error.hpp"
#include "base/levels.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

/// The two solutions of s^2 + s w/Q + w^2 with their decay exp(-w t/(2Q)) inside: for
/// d = w^2 (1 - 1/(4Q^2)), exp() cos(sqrt(d) t) and exp() sin(sqrt(d) t)/sqrt(d). Both are smooth
/// in d, so the three damping cases join without a step at Q = 0.5.
struct Parts {
    double cosine, sine;
};

Parts oscillation(double omega, double q, double time) {
    const double rate = omega / (2 * q);
    const double d = omega * omega * (1 - 1 / (4 * q * q));
    const double x = d * time * time;
    const double decay = std::exp(-rate * time);
    if (std::abs(x) < 1e-8) return {decay * (1 - x / 2), decay * time * (1 - x / 6)};
    const double root = std::sqrt(std::abs(d));
    if (d > 0) return {decay * std::cos(root * time), decay * std::sin(root * time) / root};
    // cosh and sinh alone overflow where the product with the decay is harmless: join them first.
    // rate - root = w^2/(rate + root) without cancellation.
    const double slow = std::exp(-omega * omega / (rate + root) * time);
    const double fast = std::expm1(-2 * root * time);
    return {0.5 * slow * (2 + fast), -0.5 * slow * fast / root};
}

void require_filling(double filling) {
    if (!(filling >= 1 && filling <= 1.4))
        throw Error("[box] filling", "the apparent gain of a filling lies between 1.0 and 1.40",
                    "1.0 is empty, 1.10 to 1.30 is common practice, 1.40 the isothermal limit");
}

}  // namespace

ClosedBox closed_box(const Driver& driver, double volume, double filling) {
    if (!(volume > 0) || !std::isfinite(volume))
        throw Error("[box] volume", "the net volume must be above zero",
                    "write for example \"25 L\"");
    require_filling(filling);
    ClosedBox box;
    box.volume = volume, box.filling = filling, box.apparent_volume = volume * filling;
    box.alpha = driver.vas / box.apparent_volume;
    const double ratio = std::sqrt(1 + box.alpha);
    box.fc = driver.fs * ratio;
    box.qtc = driver.qts * ratio;
    return box;
}

ClosedBox closed_box_for_qtc(const Driver& driver, double qtc, double filling) {
    require_filling(filling);
    if (!(qtc > driver.qts) || !std::isfinite(qtc)) {
        char text[160], mend[160];
        std::snprintf(
            text, sizeof text,
            "Qtc %.3g is impossible: a closed box can only raise Q, so Qtc stays above the "
            "driver's Qts of %.3g even in an endless box",
            qtc, driver.qts);
        std::snprintf(mend, sizeof mend,
                      "ask for a Qtc above %.3g, or take a driver with a lower Qts", driver.qts);
        throw Error("box", text, mend);
    }
    const double ratio = qtc / driver.qts;
    return closed_box(driver, driver.vas / (ratio * ratio - 1) / filling, filling);
}

std::complex<double> ClosedBox::response(double frequency) const {
    const std::complex<double> s{0, frequency / fc};
    return s * s / (s * s + s / qtc + 1.0);
}

double ClosedBox::f3() const {
    // |H|^2 = x^4/((1 - x^2)^2 + x^2/Q^2) = 1/2, x = f/fc: x^4 - 2 a x^2 - 1 = 0.
    const double a = (1 / (qtc * qtc) - 2) / 2;
    return fc * std::sqrt(a + std::sqrt(a * a + 1));
}

double ClosedBox::peak_db() const {
    if (qtc * qtc <= 0.5) return 0;  // |H| has its top at f = fc/sqrt(1 - 1/(2 Q^2)), if anywhere
    return db_of_amplitude(qtc * qtc / std::sqrt(qtc * qtc - 0.25));
}

double ClosedBox::group_delay(double frequency) const {
    const double x = frequency / fc;  // -d(phase)/dw of s^2/(s^2 + s/Q + 1)
    const double damping = (1 - x * x) * (1 - x * x) + x * x / (qtc * qtc);
    return (1 + x * x) / qtc / damping / (2 * pi * fc);
}

double ClosedBox::step_response(double time) const {
    if (time < 0) return 0;
    const double omega = 2 * pi * fc;
    const Parts p = oscillation(omega, qtc, time);
    return p.cosine - omega / (2 * qtc) * p.sine;
}

double ClosedBox::impulse_response(double time) const {
    if (time < 0) return 0;
    const double omega = 2 * pi * fc, rate = omega / qtc;  // h = delta - (rate s + w^2)/(s^2 + ...)
    const Parts p = oscillation(omega, qtc, time);
    return -rate * p.cosine - (omega * omega - rate * rate / 2) * p.sine;
}

double ClosedBox::displacement_step(double time) const {
    if (time < 0) return 0;
    const double omega = 2 * pi * fc;
    const Parts p = oscillation(omega, qtc, time);
    return 1 - p.cosine - omega / (2 * qtc) * p.sine;
}

double ClosedBox::displacement_overshoot() const {
    if (qtc <= 0.5) return 0;
    const double zeta = 1 / (2 * qtc);
    return std::exp(-pi * zeta / std::sqrt(1 - zeta * zeta));
}

std::optional<double> reference_efficiency(const Driver& driver, const Air& air) {
    if (!driver.qes) return std::nullopt;
    const double c = air.speed_of_sound;
    return 4 * pi * pi / (c * c * c) * driver.fs * driver.fs * driver.fs * driver.vas / *driver.qes;
}

std::optional<double> spl_1w_1m_db(const Driver& driver, const Air& air) {
    const auto efficiency = reference_efficiency(driver, air);
    if (!efficiency) return std::nullopt;
    return level_db(*efficiency * air.impedance() / (2 * pi));
}

}  // namespace boxroom
