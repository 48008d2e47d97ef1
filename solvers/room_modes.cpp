#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "solvers/axis_modes.hpp"
#include "solvers/modal.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
constexpr double pi = std::numbers::pi;

/// q_n^2 of one axis for a complex angular frequency.
Complex axis_value(const Room& room, const Air& air, int axis, int n, Complex omega) {
    const double side[] = {room.width, room.length, room.height};
    const AxisProblem problem{side[axis], omega / air.speed_of_sound,
                              room.walls[2 * axis].admittance(omega, air),
                              room.walls[2 * axis + 1].admittance(omega, air)};
    return axis_eigenvalues(problem, n + 1)[n];
}

/// Free oscillation e^{j w t} with w^2 = c^2 sum q_a^2(w), by repeated substitution from the rigid
/// room; half steps, because a mass-spring wall near its resonance turns the full step back.
Complex natural_frequency(const Room& room, const Air& air, const std::array<int, 3>& order,
                          double rigid) {
    Complex omega = 2 * pi * rigid;
    for (int iteration = 0; iteration < 80; ++iteration) {
        Complex sum = 0;
        for (int axis = 0; axis < 3; ++axis)
            sum += axis_value(room, air, axis, order[axis], omega);
        Complex next = air.speed_of_sound * std::sqrt(sum);
        if (next.real() < 0) next = -next;
        const Complex step = 0.5 * (next - omega);
        omega += step;
        if (std::abs(step) < 1e-7 * std::abs(omega)) break;
    }
    return omega;
}

}  // namespace

std::vector<Mode> room_modes(const Room& room, const Air& air, double highest) {
    const double half_c = air.speed_of_sound / 2;
    std::vector<Mode> modes;
    // Yielding walls shift modes by some hertz, so look a little above the limit.
    const double search = highest * 1.15;
    for (int x = 0; x * half_c / room.width <= search; ++x) {
        for (int y = 0; y * half_c / room.length <= search; ++y) {
            for (int z = 0; z * half_c / room.height <= search; ++z) {
                const double rigid = half_c * std::hypot(x / room.width, y / room.length,
                                                         z / room.height);
                if (rigid == 0 || rigid > search) continue;
                const Complex omega = natural_frequency(room, air, {x, y, z}, rigid);
                const double decay = omega.imag();
                if (!(decay > 0) || !std::isfinite(decay))
                    throw Error("modes", "a mode of the room does not decay",
                                "a wall without resistance is not admissible: give every wall some");
                Mode mode{{x, y, z}, omega.real() / (2 * pi), 3 * std::log(10.0) / decay,
                          omega.real() / (2 * decay)};
                if (mode.frequency <= highest) modes.push_back(mode);
            }
        }
    }
    std::sort(modes.begin(), modes.end(),
              [](const Mode& a, const Mode& b) { return a.frequency < b.frequency; });
    return modes;
}

}  // namespace boxroom
