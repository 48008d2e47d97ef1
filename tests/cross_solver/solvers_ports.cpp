// Openings as ports of the modal solver: against the same opening cut into the grid, against one
// longer room, and against the formulas of resonators.
#include "solvers/ports.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "cross_solver/differences.hpp"
#include "solvers/grid.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

const Wall plaster{{{14000, 0, 0}}}, studs{{{2200, 11, 1.8e6}}}, heavy{{{3e5, 0, 0}}};
const std::vector<Point> sub{{0.4, 0.5, 0.3}}, ears{{2.0, 2.5, 1.2}, {1.2, 2.9, 1.0}};

Room plain() {
    Room room{3.0, 3.6, 2.4, {}, {}};
    room.walls = {plaster, plaster, plaster, studs, plaster, plaster};
    return room;
}

Space space(Point from, Point to, const Wall& wall) {
    Space s{"next door", from, to, {}};
    for (const char* name : wall_names) s.walls.push_back({name, wall, ""});
    return s;
}

std::vector<double> geometric(double from, double to, double ratio) {
    std::vector<double> frequency;
    for (double f = from; f < to; f *= ratio) frequency.push_back(f);
    return frequency;
}

/// Frequency of the highest pressure at a corner, fed at another.
double peak(const Room& room, double from, double to) {
    const auto frequency = geometric(from, to, 1.004);
    const std::vector<Point> a{{0.2, 0.2, 0.2}},
        b{{room.width - 0.2, room.length - 0.2, room.height - 0.3}};
    const auto z = modal_transfer(room, Air{}, frequency, a, b);
    std::size_t best = 0;
    for (std::size_t f = 0; f < frequency.size(); ++f)
        if (std::abs(z.at(f, 0, 0)) > std::abs(z.at(best, 0, 0))) best = f;
    return frequency[best];
}

}  // namespace

TEST_CASE("Ports: the same opening cut into the grid comes to the same, the finer the nearer") {
    Room outside = plain(), hall = plain();
    outside.plan.openings = {{"door", {3.0, 0.9, 0}, {3.0, 1.8, 2.1}, -1}};
    hall.plan.spaces = {space({3.15, 0, 0}, {4.65, 3.6, 2.4}, {{{8000, 0, 0}}})};
    hall.plan.openings = {{"door", {3.0, 0.9, 0}, {3.0, 1.8, 2.1}, 0}};
    const auto frequency = geometric(10, 150, 1.13);
    const double allowed[] = {0.02, 0.06};
    for (const Room* room : {&outside, &hall}) {
        const auto ports = modal_transfer(*room, Air{}, frequency, sub, ears);
        const auto many = modal_transfer_many(*room, Air{}, frequency, sub, ears);
        for (std::size_t i = 0; i < ports.value.size(); ++i)
            CHECK(std::abs(Complex(many.value[i]) - ports.value[i]) <
                  2e-3 * std::abs(ports.value[i]));
        std::vector<double> error;
        for (const double spacing : {0.15, 0.075}) {
            GridOptions options;
            options.spacing = spacing, options.left_db = 0.01;
            error.push_back(
                mean_error(ports, grid_transfer(*room, Air{}, frequency, sub, ears, options)));
        }
        const auto shut = modal_transfer(plain(), Air{}, frequency, sub, ears);
        INFO("off by " << error[0] << " and " << error[1] << ", shut " << mean_error(shut, ports));
        CHECK(error[1] < allowed[room == &hall]);
        CHECK(error[1] < 0.75 * error[0]);
        CHECK(mean_error(shut, ports) > 0.3);  // the door does something
    }
}

TEST_CASE("Ports: a wall opened altogether leaves one longer room") {
    Room room = plain(), longer = plain();
    room.plan.spaces = {space({3.001, 0, 0}, {5.0, 3.6, 2.4}, plaster)};
    room.plan.spaces[0].walls[back_wall].wall = studs;
    room.plan.openings = {{"all of it", {3.0, 0, 0}, {3.0, 3.6, 2.4}, 0}};
    longer.width = 5.0;
    const auto frequency = geometric(10, 150, 1.13);
    const auto joined = modal_transfer(room, Air{}, frequency, sub, ears);
    CHECK(mean_error(joined, modal_transfer(longer, Air{}, frequency, sub, ears)) < 0.01);
}

TEST_CASE("Ports: a hatch makes the room a resonator") {
    // f = c/(2 pi) sqrt(S/(V L)), L = 2 x 0.85 a, a = sqrt(S/pi) (Kinsler et al., Fundamentals of
    // Acoustics, 4th ed., sec. 10.8, both ends flanged).
    Room room{3.0, 3.6, 2.4, {}, {}};
    for (Wall& wall : room.walls) wall = heavy;
    room.plan.openings = {{"hatch", {1.2, 0, 0.9}, {1.8, 0, 1.5}, -1}};
    const double area = 0.36, radius = std::sqrt(area / std::numbers::pi);
    const double lumped =
        343.2 / (2 * std::numbers::pi) * std::sqrt(area / (room.volume() * 2 * 0.85 * radius));
    CHECK(peak(room, 0.6 * lumped, 1.5 * lumped) == Approx(lumped).epsilon(0.04));
}

TEST_CASE("Ports: a passage between two rooms is a mass between two springs") {
    // f = c/(2 pi) sqrt(S/L (1/V1 + 1/V2)), L = depth + 2 x 0.85 a (as above, a volume at each
    // end).
    Room room{3.0, 3.6, 2.4, {}, {}};
    for (Wall& wall : room.walls) wall = heavy;
    room.plan.spaces = {space({3.8, 0, 0}, {5.8, 3.6, 2.4}, heavy)};
    room.plan.openings = {{"passage", {3.0, 1.5, 0.9}, {3.0, 2.1, 1.5}, 0}};
    const double area = 0.36, radius = std::sqrt(area / std::numbers::pi);
    const double v1 = 3.0 * 3.6 * 2.4, v2 = 2.0 * 3.6 * 2.4;
    const double lumped = 343.2 / (2 * std::numbers::pi) *
                          std::sqrt(area / (0.8 + 2 * 0.85 * radius) * (1 / v1 + 1 / v2));
    CHECK(peak(room, 0.6 * lumped, 1.5 * lumped) == Approx(lumped).epsilon(0.04));
}

TEST_CASE("Ports: reciprocal, with doors in several walls, the floor and the ceiling") {
    Room room = plain();
    room.plan.spaces = {space({0, 3.75, 0}, {3.0, 5.5, 2.4}, studs)};
    room.plan.openings = {{"door", {3.0, 0, 0}, {3.0, 0.9, 2.0}, -1},
                          {"arch", {0.5, 3.6, 0}, {2.1, 3.6, 2.2}, 0},
                          {"skylight", {0.4, 1.0, 2.4}, {1.2, 2.0, 2.4}, -1},
                          {"hatch", {2.0, 0.4, 0}, {2.8, 1.2, 0}, -1}};
    const auto frequency = geometric(10, 200, 1.5);
    const auto forth = modal_transfer(room, Air{}, frequency, sub, ears);
    const auto back = modal_transfer(room, Air{}, frequency, ears, sub);
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t r = 0; r < ears.size(); ++r)
            CHECK(std::abs(forth.at(f, r, 0) - back.at(f, 0, r)) <
                  1e-3 * std::abs(forth.at(f, r, 0)));
}

TEST_CASE("Ports: an opening that leads nowhere is refused") {
    Room room = plain();
    room.plan.spaces = {space({3.15, 2.6, 0}, {4.65, 3.6, 2.4}, plaster)};
    room.plan.openings = {{"door", {3.0, 0.9, 0}, {3.0, 1.8, 2.1}, 0}};
    CHECK_THROWS_AS(modal_transfer(room, Air{}, std::vector<double>{50}, sub, ears), Error);
}
