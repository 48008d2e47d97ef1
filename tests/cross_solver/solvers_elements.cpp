// Rooms by elements against the exact sums of a rectangle.
#include <catch2/catch.hpp>
#include <cmath>

#include "differences.hpp"
#include "solvers/element_solver.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}}, window{{{5700, 8.3, 1.594e6}}},
    brick{{{3e5, 0, 0}}}, rigid{{{1e8, 0, 0}}};
const std::vector<Point> sources{{0.35, 0.4, 0.22}, {3.4, 0.5, 0.3}};
const std::vector<Point> seats{{2.0, 3.4, 1.1}, {1.1, 3.9, 1.2}, {3.1, 2.9, 1.0}};
const std::vector<double> frequency{17, 33, 61, 88, 119, 149};

Room rectangle() {
    Room room{3.9, 5.2, 2.6, {}, {}};
    room.walls = {studs, plaster, window, brick, plaster, studs};
    return room;
}

TransferImpedance<double> by_elements(const Room& room, const MeshOptions& options = {}) {
    return ElementSolver(room, Air{}, options).transfer(frequency, sources, seats);
}
TransferImpedance<double> exact(const Room& room) {
    return modal_transfer(room, Air{}, frequency, sources, seats);
}

/// Two rooms of the same cross-section one after the other, joined over all of it.
Room room_and_space(double depth) {
    Room room{3.9, 4.4, 2.6, {}, {}};
    room.walls.fill(rigid);
    room.walls[front_wall] = plaster;
    Space space{"", {0, 4.4 + depth, 0}, {3.9, 7.0, 2.6}, {}};
    for (int w = 0; w < 6; ++w) space.walls.push_back({"", w == back_wall ? plaster : rigid, ""});
    room.plan.spaces = {space};
    return room;
}

}  // namespace

TEST_CASE("Elements: a rectangle of six unlike walls is the exact sum, with contents as well") {
    for (const bool furnished : {false, true}) {
        Room room = rectangle();
        if (furnished) room.contents = constant_contents(6);
        const auto off = worst(by_elements(room), exact(room), frequency);
        CHECK(off.level < 0.05);
        CHECK(off.phase < 0.5);
    }
}

TEST_CASE("Elements: halved, they err less by the order of their degree") {
    // Degree 5 all over. The energy's error falls as h^5 and that of a pressure, which by
    // Galerkin's orthogonality is a product of two of them, as h^10 (Ihlenburg, Finite Element
    // Analysis of Acoustic Scattering, 1998, ch. 4; from memory): 2^10. At a source the field is
    // not smooth: 2^8 is asked for.
    MeshOptions coarse;
    coarse.longest = 2.6;
    const auto truth = exact(rectangle());
    const double first = mean_error(by_elements(rectangle(), coarse), truth);
    const double second = mean_error(by_elements(rectangle()), truth);
    CHECK(first > 256 * second);
}

TEST_CASE("Elements: a room and its neighbour joined over all of their wall are one rectangle") {
    Room whole{3.9, 7.0, 2.6, {}, {}};
    whole.walls.fill(rigid);
    whole.walls[front_wall] = whole.walls[back_wall] = plaster;
    for (const double depth : {0.0, 0.3}) {
        Room room = room_and_space(depth);
        room.plan.openings = {{"", {0, 4.4, 0}, {3.9, 4.4, 2.6}, 0}};
        CHECK(worst(by_elements(room), exact(whole), frequency).level < 0.05);
    }
}

TEST_CASE("Elements: a neighbour without an opening is not heard, however thin the wall") {
    Room alone{3.9, 4.4, 2.6, {}, {}};
    alone.walls.fill(rigid);
    alone.walls[front_wall] = plaster;
    for (const double depth : {0.0, 0.3})
        CHECK(worst(by_elements(room_and_space(depth)), exact(alone), frequency).level < 0.05);
}

TEST_CASE("Elements: blocks from floor to ceiling leave a rectangle with their surface as walls") {
    Room room{5.0, 5.2, 2.6, {}, {}};
    room.walls = {studs, brick, window, brick, plaster, studs};
    room.plan.blocks = {{"", {3.9, 0, 0}, {5.0, 2.1, 2.6}, {"", plaster, ""}},
                        {"", {3.9, 2.1, 0}, {5.0, 5.2, 2.6}, {"", plaster, ""}}};
    CHECK(worst(by_elements(room), exact(rectangle()), frequency).level < 0.05);
}

TEST_CASE("Elements: a floor plan's edges are its walls") {
    Room planned = rectangle();
    planned.plan.outline = {{0, 0, 0}, {3.9, 0, 0}, {3.9, 2.1, 0}, {3.9, 5.2, 0}, {0, 5.2, 0}};
    for (const int wall : {front_wall, right_wall, right_wall, back_wall, left_wall})
        planned.plan.edges.push_back({"", rectangle().walls[wall], ""});
    CHECK(worst(by_elements(planned), exact(rectangle()), frequency).level < 0.05);
}

TEST_CASE(
    "Elements: slanted walls are followed: a rectangle turned by 30 degrees is the same room") {
    const Room straight = rectangle();
    const double c = std::sqrt(3.0) / 2, s = 0.5;
    const auto turned = [&](const Point& p) {
        return Point{5.2 * s + c * p.x - s * p.y, s * p.x + c * p.y, p.z};
    };
    Room room{3.9 * c + 5.2 * s, 3.9 * s + 5.2 * c, 2.6, straight.walls, {}};
    for (const Point& corner : {Point{0, 0, 0}, {3.9, 0, 0}, {3.9, 5.2, 0}, {0, 5.2, 0}})
        room.plan.outline.push_back(turned(corner));
    for (const int wall : {front_wall, right_wall, back_wall, left_wall})
        room.plan.edges.push_back({"", straight.walls[wall], ""});
    std::vector<Point> from, to;
    for (const Point& p : sources) from.push_back(turned(p));
    for (const Point& p : seats) to.push_back(turned(p));
    const auto z = ElementSolver(room, Air{}, {}).transfer(frequency, from, to);
    CHECK(worst(z, exact(straight), frequency).level < 0.05);
}
