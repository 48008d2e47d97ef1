#pragma once

namespace boxroom {

/// The air in the room; the defaults are 20 C, 101.325 kPa (Pierce, Acoustics, sec. 1-9).
struct Air {
    double speed_of_sound = 343.2;                                 ///< c [m/s]
    double density = 1.2041;                                       ///< rho [kg/m3]
    double impedance() const { return density * speed_of_sound; }  ///< rho c [Pa s/m]
};

}  // namespace boxroom
