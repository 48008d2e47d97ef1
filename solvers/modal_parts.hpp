#pragma once
#include <array>
#include <cmath>
#include <complex>
#include <exception>
#include <numbers>
#include <span>
#include <string>
#include <vector>

#include "base/error.hpp"
#include "solvers/axis_modes.hpp"
#include "solvers/room.hpp"

/// What both forms of the modal solver start from; not for use outside of it.
namespace boxroom::modal_parts {

using Complex = std::complex<double>;
inline constexpr Complex j{0, 1};
inline constexpr double pi = std::numbers::pi;

inline std::array<double, 3> coordinates(const Point& p) {
    return {p.x, p.y, p.z};
}
inline std::array<double, 3> sides(const Room& room) {
    return {room.width, room.length, room.height};
}

/// The three axis problems at one frequency.
inline std::array<AxisProblem, 3> axis_problems(const Room& room, const Air& air,
                                                double frequency) {
    const double omega = 2 * pi * frequency;
    std::array<AxisProblem, 3> axis;
    const auto side = sides(room);
    for (int a = 0; a < 3; ++a)
        axis[a] = {side[a], omega / air.speed_of_sound, room.walls[2 * a].admittance(omega, air),
                   room.walls[2 * a + 1].admittance(omega, air)};
    return axis;
}

/// Modes needed along a side so that what is left out has decayed by e^-decay over `distance`.
inline int modes_needed(double side, double k, double distance, double decay) {
    const double highest = std::hypot(k, decay / distance);
    return static_cast<int>(std::ceil(highest * side / pi)) + 3;
}

inline void check_inside(const Room& room, std::span<const Point> points, const char* what) {
    if (!room.has_rectangle_floor())
        throw Error("modal solver", "the room is no rectangle",
                    "this needs four walls and no blocks; use --solver grid");
    for (const Point& p : points)
        if (!room.contains(p))
            throw Error("modal solver", std::string(what) + " lies outside the room",
                        "every point needs 0 <= x <= width, 0 <= y <= length, 0 <= z <= height");
}

/// Runs body(f) for every frequency on all threads; the first exception comes out again.
template <typename Body>
void for_each_frequency(std::size_t count, const Body& body) {
    std::exception_ptr failure;
#pragma omp parallel for schedule(dynamic, 4)
    for (std::size_t f = 0; f < count; ++f) {
        try {
            body(f);
        } catch (...) {
#pragma omp critical
            failure = std::current_exception();
        }
    }
    if (failure) std::rethrow_exception(failure);
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
