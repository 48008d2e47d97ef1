// The eigenvalues and the closed form of one axis hold each other up: whichever axis is taken in
// closed form, the sum over the other two is the same, for walls of every kind.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "solvers/axis_modes.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

Complex sum_with_closed_axis(const Room& room, double frequency, Point from, Point to, int closed,
                             int modes) {
    const Air air;
    const double side[] = {room.width, room.length, room.height};
    const double a[] = {from.x, from.y, from.z}, b[] = {to.x, to.y, to.z};
    const double omega = 2 * M_PI * frequency;
    std::array<AxisProblem, 3> axis;
    for (int n = 0; n < 3; ++n)
        axis[n] = {side[n], omega / air.speed_of_sound, room.walls[2 * n].admittance(omega, air),
                   room.walls[2 * n + 1].admittance(omega, air)};
    const int p = (closed + 1) % 3, q = (closed + 2) % 3;
    const auto on_p = axis_eigenvalues(axis[p], modes), on_q = axis_eigenvalues(axis[q], modes);
    Complex sum = 0;
    for (const Complex& x : on_p)
        for (const Complex& y : on_q)
            sum += axis_function(axis[p], x, a[p]) * axis_function(axis[p], x, b[p]) /
                   axis_norm(axis[p], x) * axis_function(axis[q], y, a[q]) *
                   axis_function(axis[q], y, b[q]) / axis_norm(axis[q], y) *
                   axis_green(axis[closed], axis[closed].k * axis[closed].k - x - y, a[closed],
                              b[closed]);
    return Complex{0, omega * air.density} * sum;
}

}  // namespace

TEST_CASE("Any axis may be taken in closed form, whatever the walls") {
    std::mt19937 random(20);
    const auto between = [&](double low, double high) {
        return low * std::pow(high / low, std::uniform_real_distribution<>(0, 1)(random));
    };
    for (int trial = 0; trial < 60; ++trial) {
        Room room{between(2, 8), between(2, 8), between(2, 4), {}, {}};
        for (Wall& wall : room.walls) {
            const int kind = std::uniform_int_distribution<>(0, 2)(random);
            wall.branches = {
                {between(150, 1e5), kind ? between(1, 300) : 0, kind == 2 ? between(1e4, 1e7) : 0}};
            if (kind == 1) wall.branches.push_back({between(1000, 1e5), 0, 0});
        }
        const double frequency = between(8, 250);
        const Point from{0.1 * room.width, 0.12 * room.length, 0.1 * room.height},
            to{0.6 * room.width, 0.65 * room.length, 0.55 * room.height};
        const auto exact = modal_transfer(room, Air{}, std::vector<double>{frequency},
                                          std::vector<Point>{from}, std::vector<Point>{to});
        for (int closed = 0; closed < 3; ++closed) {
            const Complex z = sum_with_closed_axis(room, frequency, from, to, closed, 90);
            INFO("trial " << trial << ", closed axis " << closed << ", " << frequency << " Hz");
            CHECK(std::abs(z / exact.at(0, 0, 0) - 1.0) < 1e-6);
        }
    }
}

TEST_CASE("Eigenvalues satisfy the boundary condition at the far end") {
    const AxisProblem axis{4.1, 1.7, {0.4, -0.3}, {0.05, 0.6}};
    for (const Complex& q2 : axis_eigenvalues(axis, 20)) {
        const double h = 1e-5, x = axis.length;
        const Complex slope =
            (axis_function(axis, q2, x + h) - axis_function(axis, q2, x - h)) / (2 * h);
        const Complex wanted = -Complex{0, 1} * axis.k * axis.b1 * axis_function(axis, q2, x);
        CHECK(std::abs(slope - wanted) < 1e-6 * (1 + std::sqrt(std::abs(q2))));
    }
}
