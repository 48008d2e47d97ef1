#include <algorithm>
#include <cmath>

#include "solvers/modal.hpp"
#include "solvers/modal_drafts.hpp"
#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

using Eigenvalues = std::array<Complex, 3>;  // q_a^2

/// Free oscillation e^{j w t} by repeated substitution, w^2 = c^2 sum q_a^2(w)/s(w), s being the
/// contents' density factor, from `omega` on. The step is halved whenever it stops shrinking: a
/// mass-spring wall near its resonance would throw the full step back and forth.
template <typename EigenvaluesAt>
Complex natural_frequency(const Room& room, const Air& air, Complex omega,
                          const EigenvaluesAt& eigenvalues_at) {
    double share = 1, previous = 1e99;
    for (int iteration = 0; iteration < 80; ++iteration) {
        const Eigenvalues q2 = eigenvalues_at(axis_problems_at(room, air, omega));
        Complex next =
            air.speed_of_sound * std::sqrt((q2[0] + q2[1] + q2[2]) /
                                           room.contents.density_factor(omega, air, room.volume()));
        if (next.real() < 0) next = -next;
        const double wanted = std::abs(next - omega);
        if (wanted > 0.7 * previous) share = std::max(0.05, share / 2);
        previous = wanted;
        omega += share * (next - omega);
        if (wanted < 1e-7 * std::abs(omega)) break;
    }
    return omega;
}

Eigenvalues of_order(const std::array<AxisProblem, 3>& axis, const std::array<int, 3>& order) {
    Eigenvalues q2;
    for (int a = 0; a < 3; ++a) q2[a] = axis_eigenvalues(axis[a], order[a] + 1)[order[a]];
    return q2;
}

/// The one that grows out of the rigid room's mode of this order. Its three eigenvalues are
/// followed on their own, a tenth of the work; should they turn out to be another mode's, all of
/// them are found at every step.
Complex natural_frequency(const Room& room, const Air& air, const std::array<int, 3>& order,
                          double rigid) {
    Eigenvalues q2;
    for (int a = 0; a < 3; ++a) q2[a] = std::pow(order[a] * pi / sides(room)[a], 2);
    const Complex followed =
        natural_frequency(room, air, 2 * pi * rigid, [&q2](const std::array<AxisProblem, 3>& axis) {
            for (int a = 0; a < 3; ++a) q2[a] = axis_eigenvalue_near(axis[a], q2[a]);
            return q2;
        });
    bool same = std::isfinite(std::abs(followed));
    if (same) {
        const auto found = of_order(axis_problems_at(room, air, followed), order);
        for (int a = 0; a < 3; ++a)
            same = same && std::abs(found[a] - q2[a]) * sides(room)[a] * sides(room)[a] < 1e-3;
    }
    if (same) return followed;
    return natural_frequency(
        room, air, 2 * pi * rigid,
        [&order](const std::array<AxisProblem, 3>& axis) { return of_order(axis, order); });
}

void check_has_formula(const Room& room) {
    if (!room.has_rectangle_floor())
        throw Error("room modes", "the room is no rectangle, so its modes have no formula",
                    "use `listen` or `map`, which work in any room");
}

/// A mode that dies within this time [s] is none that anybody hears, and towards walls of rho c it
/// ceases to exist: then the first-order values stand.
constexpr double dead_at_once = 0.1;

}  // namespace

Mode room_mode(const Room& room, const Air& air, const std::array<int, 3>& order) {
    check_has_formula(room);
    const Mode rough = first_order_mode(room, air, order);
    if (rough.decay_time < dead_at_once) return rough;
    const Complex omega = natural_frequency(room, air, order, rough.frequency);
    const double decay = omega.imag();
    if (!(decay > 0) || !std::isfinite(decay))
        throw Error("modes", "a mode of the room does not decay",
                    "a wall without resistance is not admissible: give every wall some");
    return {order, omega.real() / (2 * pi), 3 * std::log(10.0) / decay, omega.real() / (2 * decay)};
}

std::vector<Mode> room_modes(const Room& room, const Air& air, double highest) {
    check_has_formula(room);
    // 1. The rigid room's modes. Yielding walls shift modes by some hertz, so look a little above
    // the limit.
    const double search = highest * 1.15;
    std::vector<Mode> modes;
    const auto most = [&](double side) {
        return static_cast<int>(search * 2 * side / air.speed_of_sound);
    };
    for (int x = 0; x <= most(room.width); ++x)
        for (int y = 0; y <= most(room.length); ++y)
            for (int z = 0; z <= most(room.height); ++z) {
                const double rigid = air.speed_of_sound / 2 *
                                     std::hypot(x / room.width, y / room.length, z / room.height);
                if (rigid > 0 && rigid <= search) modes.push_back({{x, y, z}, rigid, 0, 0});
            }

    // 2. Each followed to where the walls and the contents take it.
    for_each_in_parallel(modes.size(), 1,
                         [&](std::size_t n) { modes[n] = room_mode(room, air, modes[n].order); });
    std::erase_if(modes, [&](const Mode& mode) { return mode.frequency > highest; });
    std::sort(modes.begin(), modes.end(),
              [](const Mode& a, const Mode& b) { return a.frequency < b.frequency; });
    return modes;
}

}  // namespace boxroom
