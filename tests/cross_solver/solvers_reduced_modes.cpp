// Free oscillations by elements: against the formulas of a rectangle, and against an L of rigid
// walls whose frequencies are published.
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/mode_shape.hpp"
#include "solvers/reduced_room.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}}, brick{{{3e5, 0, 0}}},
    rigid{{{1e7, 0, 0}}};

std::vector<FreeOscillation> by_elements(const Room& room, const std::vector<Point>& places,
                                         double highest) {
    ReducedRoom reduced(room, Air{}, 150);
    reduced.learn(places);
    return reduced.free_oscillations(highest);
}

}  // namespace

TEST_CASE("Free oscillations: a rectangle's are its formulas', every one and no other") {
    Room room{4.8, 4.2, 2.4, {plaster, studs, brick, plaster, plaster, studs}, {}};
    room.contents = contents_of(find_named_contents("furnished"), 20);
    const std::vector<Point> places{{1.3, 3.6, 1.1}, {4.0, 2.6, 1.2}};
    const auto found = by_elements(room, places, 140);
    const auto exact = room_modes(room, Air{}, 140);
    REQUIRE(found.size() == exact.size());
    for (std::size_t n = 0; n < exact.size(); ++n) {
        const Mode& mode = found[n].mode;
        INFO(exact[n].frequency << " Hz, decays in " << exact[n].decay_time << " s");
        CHECK(mode.frequency == Approx(exact[n].frequency).epsilon(5e-4));
        CHECK(mode.decay_time == Approx(exact[n].decay_time).epsilon(0.01));
        CHECK(mode.q == Approx(exact[n].q).epsilon(0.01));
    }
}

TEST_CASE("Free oscillations: what one does at a place is what the formula's does") {
    Room room{4.8, 4.2, 2.4, {}, {}};
    room.walls.fill(plaster);
    const Point source{0.4, 0.3, 0.2}, seat{1.3, 3.6, 1.1};
    const auto found = by_elements(room, {seat}, 80);
    const auto exact = room_modes(room, Air{}, 80);
    REQUIRE(found.size() == exact.size());
    for (std::size_t n = 0; n < exact.size(); ++n) {
        const ModeShape shape(room, Air{}, exact[n]);
        const auto ours = found[n].transfer * found[n].shape(source) * found[n].shape(seat);
        const auto formula = shape.transfer() * shape.at(source) * shape.at(seat);
        const auto loudest = shape.transfer() * shape.at({0, 0, 0}) * shape.at({0, 0, 0});
        CHECK(std::abs(ours - formula) < 0.03 * std::abs(loudest));
    }
}

// An L of three unit squares between rigid walls: the eigenvalues of the Laplacian, of
// M. Dauge, Benchmark computations for Maxwell equations (2004), the L-shaped domain, whose
// electric fields are the gradients' rotations of these; from memory, to the digits that are
// checked.
TEST_CASE("Free oscillations: of an L of rigid walls, as published") {
    constexpr double unit = 2.5, height = 1.1;
    Room room{2 * unit, 2 * unit, height, {}, {}};
    room.plan.outline = {{0, 0, 0},       {2 * unit, 0, 0},    {2 * unit, unit, 0},
                         {unit, unit, 0}, {unit, 2 * unit, 0}, {0, 2 * unit, 0}};
    for (int i = 0; i < 6; ++i) room.plan.edges.push_back({"", rigid, ""});
    room.walls.fill(rigid);
    const auto found = by_elements(room, {{1.1, 3.9, 0.9}, {4.1, 0.7, 0.4}}, 75);
    const double published[] = {1.47562182, 3.53403137, 9.86960440, 9.86960440, 11.38947940};
    REQUIRE(found.size() == std::size(published));
    for (std::size_t n = 0; n < found.size(); ++n)
        CHECK(found[n].mode.frequency ==
              Approx(Air{}.speed_of_sound * std::sqrt(published[n]) / (2 * M_PI * unit))
                  .epsilon(1e-3));
}
