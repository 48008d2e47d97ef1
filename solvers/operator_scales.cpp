#include "solvers/operator_scales.hpp"

#include <numbers>

#include "solvers/element_mesh.hpp"
#include "solvers/imaginary_unit.hpp"

namespace boxroom {

OperatorScales operator_scales(const Room& room, const Air& air, double frequency) {
    return operator_scales_at(room, air, 2 * std::numbers::pi * frequency);
}

OperatorScales operator_scales_at(const Room& room, const Air& air, std::complex<double> omega) {
    const std::complex<double> k = omega / air.speed_of_sound;
    OperatorScales scales;
    scales.stiffness_room = 1.0 / room.contents.density_factor(omega, air, room.volume());
    scales.stiffness_elsewhere = 1;
    scales.mass = -k * k;
    for (const Wall& wall : surface_walls(room, air))
        scales.wall.push_back(j * k * wall.admittance(omega, air));
    return scales;
}

}  // namespace boxroom
