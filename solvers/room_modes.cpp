#include <algorithm>
#include <cmath>
#include <exception>
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
/// room. The step is halved whenever it stops shrinking: a mass-spring wall near its resonance
/// would throw the full step back and forth.
Complex natural_frequency(const Room& room, const Air& air, const std::array<int, 3>& order,
                          double rigid) {
    Complex omega = 2 * pi * rigid;
    double share = 1, previous = 1e99;
    for (int iteration = 0; iteration < 80; ++iteration) {
        Complex sum = 0;
        for (int axis = 0; axis < 3; ++axis) sum += axis_value(room, air, axis, order[axis], omega);
        Complex next = air.speed_of_sound * std::sqrt(sum);
        if (next.real() < 0) next = -next;
        const double wanted = std::abs(next - omega);
        if (wanted > 0.7 * previous) share = std::max(0.05, share / 2);
        previous = wanted;
        omega += share * (next - omega);
        if (wanted < 1e-7 * std::abs(omega)) break;
    }
    return omega;
}

}  // namespace

std::vector<Mode> room_modes(const Room& room, const Air& air, double highest) {
    if (!room.has_rectangle_floor())
        throw Error("room modes", "the room is no rectangle, so its modes have no formula",
                    "use `listen` or `map`, which work in any room");
    const double half_c = air.speed_of_sound / 2;
    // 1. The rigid room's modes. Yielding walls shift modes by some hertz, so look a little above
    // the limit.
    const double search = highest * 1.15;
    std::vector<Mode> modes;
    for (int x = 0; x * half_c / room.width <= search; ++x) {
        for (int y = 0; y * half_c / room.length <= search; ++y) {
            for (int z = 0; z * half_c / room.height <= search; ++z) {
                const double rigid =
                    half_c * std::hypot(x / room.width, y / room.length, z / room.height);
                if (rigid > 0 && rigid <= search) modes.push_back({{x, y, z}, rigid, 0, 0});
            }
        }
    }

    // 2. Each followed to where the walls take it.
    std::exception_ptr failure;
#pragma omp parallel for schedule(dynamic, 1)
    for (std::size_t n = 0; n < modes.size(); ++n) {
        try {
            Mode& mode = modes[n];
            const Complex omega = natural_frequency(room, air, mode.order, mode.frequency);
            const double decay = omega.imag();
            if (!(decay > 0) || !std::isfinite(decay))
                throw Error("modes", "a mode of the room does not decay",
                            "a wall without resistance is not admissible: give every wall some");
            mode.frequency = omega.real() / (2 * pi);
            mode.decay_time = 3 * std::log(10.0) / decay;
            mode.q = omega.real() / (2 * decay);
        } catch (...) {
#pragma omp critical
            failure = std::current_exception();
        }
    }
    if (failure) std::rethrow_exception(failure);
    std::erase_if(modes, [&](const Mode& mode) { return mode.frequency > highest; });
    std::sort(modes.begin(), modes.end(),
              [](const Mode& a, const Mode& b) { return a.frequency < b.frequency; });
    return modes;
}

}  // namespace boxroom
