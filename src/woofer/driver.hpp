#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/air.hpp"

namespace boxroom {

/// What the data sheet says; SI. Only the first three are required.
struct DriverSheet {
    double fs = 0;   ///< free-air resonance [Hz]
    double qts = 0;  ///< total Q at fs
    double vas = 0;  ///< volume of air as stiff as the suspension [m3]
    std::optional<double> qes, qms;
    std::optional<double> re;     ///< voice coil [ohm]
    std::optional<double> le;     ///< [H]
    std::optional<double> sd;     ///< cone [m2]
    std::optional<double> xmax;   ///< one-way [m]
    std::optional<double> bl;     ///< [T m]
    std::optional<double> mms;    ///< moving mass with air load [kg]
    std::optional<double> power;  ///< thermal rating [W]
};

/// The sheet with everything added that follows from it.
struct Driver {
    double fs = 0, qts = 0, vas = 0;
    std::optional<double> qes, qms, re, le, sd, xmax, bl, mms, power;
    std::optional<double> cms;  ///< suspension compliance [m/N]
    std::optional<double> rms;  ///< mechanical resistance [kg/s]
    /// fs, Qts, Vas alone give the shape; with Sd, Re, Bl, Mms, Rms, Cms known the level too.
    bool absolute() const { return sd && re && bl && mms && rms && cms; }
    std::vector<std::string> warnings;  ///< contradictions of more than 5 %, by name
};

/// Completes the parameter set by the standard relations (Small, JAES 20(5) 1972, sec. 1; Beranek &
/// Mellow ch. 6): Qts = Qes Qms/(Qes + Qms), Cms = Vas/(rho c^2 Sd^2), Mms = 1/((2 pi fs)^2 Cms),
/// Qes = 2 pi fs Mms Re/Bl^2, Rms = 2 pi fs Mms/Qms. Given values are kept; where a value that is
/// given differs by more than 5 % from what the others imply, a warning names both.
/// A given Mms that contradicts fs, Vas and Sd decides Cms = 1/((2 pi fs)^2 Mms), so that fs stays.
/// Throws Error for values that are not positive, Qts above Qes or Qms.
Driver complete_driver(const DriverSheet& sheet, const Air& air);

}  // namespace boxroom
