#pragma once
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <span>
#include <string>
#include <vector>

#include "base/error.hpp"
#include "base/parallel.hpp"
#include "solvers/axis_modes.hpp"
#include "solvers/check_points.hpp"
#include "solvers/imaginary_unit.hpp"
#include "solvers/room.hpp"

/// What both forms of the modal solver start from; not for use outside of it.
namespace boxroom::modal_parts {

using Complex = std::complex<double>;
using std::numbers::pi;

inline std::array<double, 3> coordinates(const Point& p) {
    return {p.x, p.y, p.z};
}
inline std::array<double, 3> sides(const Room& room) {
    return {room.width, room.length, room.height};
}

/// The three axis problems at one angular frequency, which may be complex. The room's contents make
/// the air's density and its k^2 complex (solvers/contents.hpp): with s = 1 - 2j delta/w, k becomes
/// k sqrt(s) and each wall's beta, at dp/dn = -j w rho s p/z = -j k beta p, beta sqrt(s).
inline std::array<AxisProblem, 3> axis_problems_at(const Room& room, const Air& air,
                                                   Complex omega) {
    const Complex root = std::sqrt(room.contents.density_factor(omega, air, room.volume()));
    std::array<AxisProblem, 3> axis;
    const auto side = sides(room);
    for (int a = 0; a < 3; ++a)
        axis[a] = {side[a], omega / air.speed_of_sound * root,
                   room.walls[2 * a].admittance(omega, air) * root,
                   room.walls[2 * a + 1].admittance(omega, air) * root};
    return axis;
}
inline std::array<AxisProblem, 3> axis_problems(const Room& room, const Air& air,
                                                double frequency) {
    return axis_problems_at(room, air, 2 * pi * frequency);
}

/// j w rho s, by which the Green's function of the room becomes its Z.
inline Complex source_factor_at(const Room& room, const Air& air, Complex omega) {
    return j * omega * air.density * room.contents.density_factor(omega, air, room.volume());
}
inline Complex source_factor(const Room& room, const Air& air, double frequency) {
    return source_factor_at(room, air, 2 * pi * frequency);
}

/// Modes needed along a side so that what is left out has decayed by e^-decay over `distance`.
inline int modes_needed(double side, double k, double distance, double decay) {
    const double highest = std::hypot(k, decay / distance);
    return static_cast<int>(std::ceil(highest * side / pi)) + 3;
}

inline void check_inside(const Room& room, std::span<const Point> points, const char* what) {
    if (!room.is_rectangle())
        throw Error("modal solver", "the room is no closed rectangle",
                    "this needs four walls, no blocks and no openings; use room_transfer");
    check_in_room(room, points, what);
}

/// Runs body(f) for every frequency on all threads; the first exception comes out again.
template <typename Body>
void for_each_frequency(std::size_t count, const Body& body) {
    for_each_in_parallel(count, 4, body);
}

/// The eigenvalues q_n^2 of one axis and weight[n] = 1/Lambda_n.
struct AxisTable {
    std::vector<Complex> q2, weight;
};

inline AxisTable axis_table(const AxisProblem& axis, int count) {
    AxisTable table;
    table.q2 = axis_eigenvalues(axis, count);
    table.weight.resize(count);
    for (int n = 0; n < count; ++n) table.weight[n] = 1.0 / axis_norm(axis, table.q2[n]);
    return table;
}

}  // namespace boxroom::modal_parts
