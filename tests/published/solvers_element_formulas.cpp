// Rooms by elements against formulas of handbooks: a duct, resonators; and how the error falls at a
// corner that points into the room.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "cross_solver/differences.hpp"
#include "l_shaped_room.hpp"
#include "solvers/element_solver.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

const Wall heavy{{{3e5, 0, 0}}};

/// Frequency of the highest pressure at one corner of the room, fed at the opposite one.
double peak(const Room& room, double from, double to) {
    std::vector<double> frequency;
    for (double f = from; f < to; f *= 1.01) frequency.push_back(f);
    const std::vector<Point> a{{0.2, 0.2, 0.2}},
        b{{room.width - 0.2, room.length - 0.2, room.height - 0.3}};
    const auto z = ElementSolver(room, Air{}, {}).transfer(frequency, a, b);
    std::size_t best = 0;
    for (std::size_t f = 0; f < frequency.size(); ++f)
        if (std::abs(z.at(f, 0, 0)) > std::abs(z.at(best, 0, 0))) best = f;
    return frequency[best];
}

Space space(Point from, Point to) {
    Space s{"next door", from, to, {}};
    for (const char* name : wall_names) s.walls.push_back({name, heavy, ""});
    return s;
}

}  // namespace

TEST_CASE("Elements: a rigid duct with an impedance end reflects as the formula says") {
    // Plane waves (Kinsler et al., Fundamentals of Acoustics, 4th ed., ch. 10): a piston at x = 0
    // in a duct closed by r = (z - rho c)/(z + rho c) gives Z(x) = rho c/S (e^{-jkx} + r e^{-jk(2L
    // - x)})
    // /(1 - r e^{-2jkL}). A point on the closed end is that piston once cross modes have died out.
    const Air air;
    Room room{6.0, 0.5, 0.5, {}, {}};
    room.walls.fill({{{1e9, 0, 0}}});
    const Branch end{900, 2.5, 3e5};
    room.walls[right_wall] = {{end}};
    const std::vector<double> frequency{20, 33, 47, 71, 100, 130};
    const std::vector<Point> sources{{0, 0.25, 0.25}}, receivers{{2.33, 0.1, 0.2}, {5.2, 0.4, 0.1}};
    const auto z = ElementSolver(room, air, {}).transfer(frequency, sources, receivers);
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t r = 0; r < receivers.size(); ++r) {
            const double w = 2 * std::numbers::pi * frequency[f], k = w / air.speed_of_sound;
            const Complex wall{end.resistance, w * end.mass - end.stiffness / w};
            const Complex reflection = (wall - air.impedance()) / (wall + air.impedance());
            const double x = receivers[r].x, length = room.width;
            const Complex exact =
                air.impedance() / 0.25 *
                (std::polar(1.0, -k * x) + reflection * std::polar(1.0, -k * (2 * length - x))) /
                (1.0 - reflection * std::polar(1.0, -2 * k * length));
            INFO(frequency[f] << " Hz at " << x << " m");
            CHECK(std::abs(z.at(f, r, 0) / exact - 1.0) < 2e-3);
        }
}

TEST_CASE("Elements: a passage between two rooms is a mass between two springs") {
    // f = c/(2 pi) sqrt(S/L (1/V1 + 1/V2)), L = depth + 2 x 0.85 a, a = sqrt(S/pi) (Kinsler et al.,
    // sec. 10.8, both ends flanged). The formula's own doubt: a square for a circle, walls near by.
    Room room{3.0, 3.6, 2.4, {}, {}};
    room.walls.fill(heavy);
    room.plan.spaces = {space({3.8, 0, 0}, {5.8, 3.6, 2.4})};
    room.plan.openings = {{"passage", {3.0, 1.5, 0.9}, {3.0, 2.1, 1.5}, 0}};
    const double area = 0.36, radius = std::sqrt(area / std::numbers::pi);
    const double v1 = 3.0 * 3.6 * 2.4, v2 = 2.0 * 3.6 * 2.4;
    const double lumped = Air{}.speed_of_sound / (2 * std::numbers::pi) *
                          std::sqrt(area / (0.8 + 2 * 0.85 * radius) * (1 / v1 + 1 / v2));
    CHECK(peak(room, 0.85 * lumped, 1.2 * lumped) == Approx(lumped).epsilon(0.04));
}

TEST_CASE("Elements: at a corner that points into the room the error falls as theory says") {
    // The field has r^(2/3) there (Grisvard, Elliptic Problems in Nonsmooth Domains, 1985). On even
    // elements the energy's error falls as h^(2/3), a pressure's away from the corner as its
    // square, h^(4/3); raising the degree p gives p^(-8/3) (Babuska & Suri, RAIRO M2AN 21, 1987).
    const Wall rigid{{{1e7, 0, 0}}};
    Room room = l_shaped_room(rigid, rigid, rigid);
    room.height = 0.5;  // flat: what happens, happens at the corner
    const std::vector<double> frequency{19, 27, 33, 47};
    const std::vector<Point> sources{{0.3, 3.8, 0.1}}, seats{{4.3, 0.6, 0.4}, {3.9, 1.9, 0.2}};
    const auto solved = [&](double longest, int more_degrees) {
        MeshOptions mesh;
        mesh.longest = longest, mesh.more_degrees = more_degrees;
        return ElementSolver(room, Air{}, mesh).transfer(frequency, sources, seats);
    };
    const auto truth = solved(0.6, 2);
    const auto error = [&](double longest, int more_degrees) {
        return mean_error(solved(longest, more_degrees), truth);
    };
    const double coarse = error(2.4, 0), middle = error(1.2, 0), fine = error(0.6, 0);
    const double halved = std::exp2(4.0 / 3);
    CHECK(coarse / middle > 0.9 * halved);
    CHECK(middle / fine > 0.9 * halved);  // though the small are of degree 4
    CHECK(middle / error(1.2, 2) > 0.9 * std::pow(7.0 / 5, 8.0 / 3));  // degree 5 to 7
    CHECK(worst(solved(1.2, 0), truth, frequency).level < 0.2);        // about as a room is solved
}
