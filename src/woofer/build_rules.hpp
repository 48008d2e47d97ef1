#pragma once
#include <optional>
#include <string>

#include "woofer/materials.hpp"

namespace boxroom {

/// How the box is made; what does not change its size. Defaults: MDF, butt joints, one sheet of
/// 2.44 x 1.22 m (8 x 4 ft), a saw of 3.2 mm (1/8 in).
struct BuildRules {
    Material material = materials().front();
    bool mitred = false;  ///< all edges at 45 degrees; else butt joints
    /// 8 x 4 ft [m]: what is sold as 2.44 x 1.22 m does too.
    double sheet_length = 2.4384, sheet_width = 1.2192;
    double kerf = 0.0032;                ///< [m]
    bool grain = false;                  ///< pieces keep their direction on the sheet
    std::optional<double> driver_frame;  ///< outer diameter of the driver's frame [m]
    std::optional<double> driver_mass, amplifier_mass;  ///< [kg]
    double filling_density = 16;  ///< of the stuffing as packed [kg/m3]: 1 lb/ft3
};

}  // namespace boxroom
