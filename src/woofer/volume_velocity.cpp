#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "base/levels.hpp"
#include "woofer/drive.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

/// The motor against the mass, the losses and the two springs (Small, JAES 20(10) 1972; Beranek &
/// Mellow ch. 6). The springs come from different corners of the sheet: the cone's is
/// (2 pi fs)^2 Mms, so that fs is met exactly, the air's is rho c^2 Sd^2/Vab, which needs no Vas.
/// On a sheet that agrees with itself their ratio is alpha = Vas/Vab; where Mms or Sd contradict fs
/// and Vas (complete_driver has warned), fc here differs from ClosedBox::fc by as much as they do.
std::complex<double> mechanical_impedance(const Driver& driver, const ClosedBox& box,
                                          std::complex<double> s, const Air& air) {
    const double sd = *driver.sd;
    const double air_spring =
        air.density * air.speed_of_sound * air.speed_of_sound * sd * sd / box.apparent_volume;
    return *driver.rms + s * *driver.mms + (1 / *driver.cms + air_spring) / s;
}

std::complex<double> driven_by_volts(const Driver& driver, const ClosedBox& box,
                                     std::complex<double> s, const Air& air, double volts) {
    const double sd = *driver.sd, bl = *driver.bl;
    const auto electrical = *driver.re + s * driver.le.value_or(0);
    return sd * bl * volts / (electrical * mechanical_impedance(driver, box, s, air) + bl * bl);
}

}  // namespace

std::complex<double> input_impedance(const Driver& driver, const ClosedBox& box, double frequency,
                                     const Air& air) {
    if (!driver.absolute())
        throw Error("drive", "the driver's impedance is unknown",
                    "give sd, re and qes (or bl, mms)");
    const std::complex<double> s{0, 2 * pi * frequency};
    return *driver.re + s * driver.le.value_or(0) +
           *driver.bl * *driver.bl / mechanical_impedance(driver, box, s, air);
}

std::complex<double> cone_admittance(const Driver& driver, const ClosedBox& box, double frequency,
                                     const Air& air) {
    if (!driver.absolute())
        throw Error("drive", "what the cone weighs is unknown", "give sd, re and qes (or bl, mms)");
    const std::complex<double> s{0, 2 * pi * frequency};
    const auto electrical = *driver.re + s * driver.le.value_or(0);
    const double sd = *driver.sd, bl = *driver.bl;
    return sd * sd * electrical /
           (electrical * mechanical_impedance(driver, box, s, air) + bl * bl);
}

std::vector<std::complex<double>> volume_velocity(const Driver& driver, const ClosedBox& box,
                                                  std::span<const double> frequency, const Air& air,
                                                  double volts) {
    std::vector<std::complex<double>> result;
    result.reserve(frequency.size());
    for (const double f : frequency) {
        const std::complex<double> s{0, 2 * pi * f};
        // Half space at 1 m: p = j w rho U/(2 pi).
        result.push_back(driver.absolute()
                             ? driven_by_volts(driver, box, s, air, volts)
                             : reference_pressure * 2 * pi / (s * air.density) * box.response(f));
    }
    return result;
}

}  // namespace boxroom
