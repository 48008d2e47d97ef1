#include "woofer/closed_box.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "base/error.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

/// cosine-like and sine-like parts of the decaying oscillation with s^2 + s w/Q + w^2: for
/// d = w^2 (1 - 1/(4Q^2)), cos(sqrt(d) t) and sin(sqrt(d) t)/sqrt(d), entire in d.
struct Parts {
    double cosine, sine;
};

Parts oscillation(double omega, double q, double time) {
    const double d = omega * omega * (1 - 1 / (4 * q * q));
    const double x = d * time * time;
    if (std::abs(x) < 1e-8) return {1 - x / 2, time * (1 - x / 6)};
    if (d > 0) return {std::cos(std::sqrt(x)), std::sin(std::sqrt(x)) / std::sqrt(d)};
    return {std::cosh(std::sqrt(-x)), std::sinh(std::sqrt(-x)) / std::sqrt(-d)};
}

}  // namespace

ClosedBox closed_box(const Driver& driver, double volume, double filling) {
    if (!(volume > 0) || !std::isfinite(volume))
        throw Error("[box] volume", "the net volume must be above zero", "write for example \"25 L\"");
    if (!(filling >= 1 && filling <= 1.4))
        throw Error("[box] filling", "the apparent gain of a filling lies between 1.0 and 1.40",
                    "1.0 is empty, 1.10 to 1.30 is common practice, 1.40 the isothermal limit");
    ClosedBox box;
    box.volume = volume, box.filling = filling, box.apparent_volume = volume * filling;
    box.alpha = driver.vas / box.apparent_volume;
    const double ratio = std::sqrt(1 + box.alpha);
    box.fc = driver.fs * ratio;
    box.qtc = driver.qts * ratio;
    return box;
}

ClosedBox closed_box_for_qtc(const Driver& driver, double qtc, double filling) {
    if (!(qtc > driver.qts)) {
        char text[160];
        std::snprintf(text, sizeof text,
                      "Qtc %.3g is impossible: a closed box only stiffens the driver, so Qtc stays "
                      "above Qts (%.3g) even in an endless box", qtc, driver.qts);
        throw Error("Qtc", text, "ask for a Qtc above Qts, or take a driver with a lower Qts");
    }
    const double ratio = qtc / driver.qts;
    return closed_box(driver, driver.vas / (ratio * ratio - 1) / filling, filling);
}

std::complex<double> ClosedBox::response(double frequency) const {
    const std::complex<double> s{0, frequency / fc};
    return s * s / (s * s + s / qtc + 1.0);
}

double ClosedBox::f3() const {
    const double a = (1 / (qtc * qtc) - 2) / 2;  // |H|^2 = 1/2: x^4 - 2 a x^2 - 1 = 0, x = f/fc
    return fc * std::sqrt(a + std::sqrt(a * a + 1));
}

double ClosedBox::peak_db() const {
    if (qtc * qtc <= 0.5) return 0;
    return 20 * std::log10(qtc * qtc / std::sqrt(qtc * qtc - 0.25));
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
    const double decay = std::exp(-omega * time / (2 * qtc));
    return decay * (p.cosine - omega / (2 * qtc) * p.sine);
}

double ClosedBox::impulse_response(double time) const {
    if (time < 0) return 0;
    const double omega = 2 * pi * fc, rate = omega / qtc;  // h = delta - (rate s + w^2)/(s^2 + ...)
    const Parts p = oscillation(omega, qtc, time);
    const double decay = std::exp(-rate * time / 2);
    return -decay * (rate * p.cosine + (omega * omega - rate * rate / 2) * p.sine);
}

double ClosedBox::displacement_step(double time) const {
    if (time < 0) return 0;
    const double omega = 2 * pi * fc;
    const Parts p = oscillation(omega, qtc, time);
    return 1 - std::exp(-omega * time / (2 * qtc)) * (p.cosine + omega / (2 * qtc) * p.sine);
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
    return 10 * std::log10(*efficiency * air.impedance() / (2 * pi) / 4e-10);
}

std::vector<std::complex<double>> volume_velocity(const Driver& driver, const ClosedBox& box,
                                                  std::span<const double> frequency, const Air& air,
                                                  double volts) {
    std::vector<std::complex<double>> result;
    for (const double f : frequency) {
        const std::complex<double> s{0, 2 * pi * f};
        if (driver.absolute()) {
            // The box's stiffness follows from alpha, so that fc and Qtc are exactly the box's.
            const std::complex<double> mechanical =
                *driver.rms + s * *driver.mms + (1 + box.alpha) / (*driver.cms * s);
            const std::complex<double> electrical = *driver.re + s * driver.le.value_or(0);
            result.push_back(*driver.sd * *driver.bl * volts /
                             (electrical * mechanical + *driver.bl * *driver.bl));
        } else {
            result.push_back(20e-6 * 2 * pi / (s * air.density) * box.response(f));
        }
    }
    return result;
}

}  // namespace boxroom
