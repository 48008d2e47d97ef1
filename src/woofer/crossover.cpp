#include "woofer/crossover.hpp"

#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "base/levels.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
using std::numbers::sqrt2;

/// D(s), the same for low-pass and high-pass.
Complex denominator(Crossover::Kind kind, int order, Complex s) {
    const auto section = [&](double middle) { return s * s + middle * s + 1.0; };
    if (order != 2 && order != 4)
        throw Error("[crossover] order", "a filter has order 2 or 4", "write order = 4");
    if (kind == Crossover::Kind::linkwitz_riley)
        return order == 2 ? section(2) : section(sqrt2) * section(sqrt2);
    return order == 2 ? section(sqrt2)
                      : section(2 * std::sin(pi / 8)) * section(2 * std::cos(pi / 8));
}

}  // namespace

Complex Crossover::low_pass(double f) const {
    return 1.0 / denominator(kind, order, {0, f / frequency});
}

Complex Crossover::high_pass(double f) const {
    const Complex s{0, f / frequency};
    return std::pow(s, order) / denominator(kind, order, s);
}

std::string crossover_name(Crossover::Kind kind) {
    return kind == Crossover::Kind::butterworth ? "butterworth" : "linkwitz-riley";
}

double passband_pressure(const Driver& driver, const Air& air) {
    constexpr double volts = 2.83;
    if (!driver.absolute()) return reference_pressure;
    return air.density * *driver.sd * *driver.bl * volts / (2 * pi * *driver.re * *driver.mms);
}

}  // namespace boxroom
