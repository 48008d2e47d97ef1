#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/air.hpp"
#include "measured/impedance.hpp"
#include "measured/interval.hpp"

namespace boxroom {

/// Curves of one driver, and what was done to it for them.
struct DriverCurves {
    CircuitFit free;                    ///< in free air
    std::optional<CircuitFit> boxed;    ///< in a closed, empty box
    std::optional<double> box_volume;   ///< of that box, net [m3]
    std::optional<CircuitFit> weighed;  ///< in free air with a mass on the cone
    std::optional<double> added_mass;   ///< that mass [kg]
    std::optional<double> sd;           ///< cone [m2], by its sheet or half the surround counted
};

/// How wrong the things may be that are not in a curve; one standard deviation, as shares. Assumed.
namespace given_doubt {
inline constexpr double volume = 0.02, mass = 0.01, sd = 0.02;
}

/// A driver's parameters with their doubt.
struct DriverParameters {
    Interval fs, qts, qes, qms, re, le;
    double semi = 0;          ///< K of the coil [ohm sqrt(s)]
    double le_at_100_hz = 0;  ///< the plain coil that acts alike there [H]
    std::optional<Interval> vas, vas_by_volume, vas_by_mass;  ///< [m3]
    std::optional<Interval> mms, cms, bl, sd;
    std::vector<std::string> notes;
};

/// Qes = Qms Re/Res, Qts = Qms Re/(Re + Res) (Small, JAES 20(5) 1972, sec. 8).
/// By a known volume: Vas = V ((fc Qmc/Resc)/(fs Qms/Res) - 1), which is Small's fc Qec/(fs Qes)
/// with the coil's heat left out; the air that moves with the cone does not count (same paper, sec.
/// 8). By an added mass: Mms = m/((fs/fm)^2 - 1), Cms = 1/((2 pi fs)^2 Mms), Vas = rho c^2 Sd^2 Cms
/// (standard handbook method; Beranek & Mellow, Acoustics, ch. 6). With both and no Sd, Sd follows.
/// Throws Error where a curve's resonance has moved the wrong way.
DriverParameters driver_parameters(const DriverCurves& curves, const Air& air);

/// What a finished box turned out to be, and what to do about its filling.
struct FinishedBox {
    Interval fc, qtc, qec, qmc, re, le;
    std::string advice;  ///< one sentence
};
/// Qtc of the curve against the Qtc that is wanted; filling makes the box larger for its air (up to
/// 1.4 times, the isothermal limit; Small, JAES 20(10) 1972).
FinishedBox finished_box(const CircuitFit& boxed, double wanted_qtc);

}  // namespace boxroom
