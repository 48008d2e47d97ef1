// A rectangle with a block in it: against exact sums where the block fills an end of the room, and
// against full solutions by elements.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/blocked_rectangle.hpp"
#include "solvers/element_solver.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}}, brick{{{6e4, 0, 0}}},
    wood{{{9000, 0, 0}}};
const std::vector<Point> subs{{0.35, 0.4, 0.25}, {3.65, 0.4, 0.25}};
const std::vector<Point> seats{
    {1.2, 3.25, 1.1}, {2.8, 3.25, 1.1}, {1.6, 4.1, 1.1}, {1.0, 2.25, 1.1}};

Room room_with(const Point& from, const Point& to) {
    Room room{4.0, 5.0, 2.45, {brick, studs, brick, plaster, plaster, studs}, {}};
    room.plan.blocks.push_back({"wardrobe", from, to, {"wardrobe", wood, ""}});
    room.contents = contents_of(find_named_contents("furnished"), 20);
    return room;
}

std::vector<double> frequencies() {
    std::vector<double> all;
    for (double f = 18; f < 140; f *= 1.12) all.push_back(f);
    return all;
}

TransferImpedance<double> by_blocked(const Room& room, int more_degrees = 0) {
    std::vector<Point> places = subs;
    places.insert(places.end(), seats.begin(), seats.end());
    const RoomVariant variant{room, subs, seats, 1};
    return BlockedRectangle(room, Air{}, 140, places, more_degrees)
        .transfer(std::span(&variant, 1), frequencies())
        .front();
}

/// RMS over the levels that are not more than 15 dB below their median [dB].
double apart(const TransferImpedance<double>& a, const TransferImpedance<double>& b) {
    std::vector<double> size;
    for (const auto& z : b.value) size.push_back(std::abs(z));
    std::nth_element(size.begin(), size.begin() + static_cast<long>(size.size() / 2), size.end());
    const double null = size[size.size() / 2] * std::pow(10.0, -0.75);
    double sum = 0, count = 0;
    for (std::size_t i = 0; i < a.value.size(); ++i) {
        if (std::abs(b.value[i]) < null) continue;
        sum += std::pow(20 * std::log10(std::abs(a.value[i] / b.value[i])), 2);
        ++count;
    }
    return std::sqrt(sum / count);
}

}  // namespace

TEST_CASE("Blocked rectangle: a block across the whole end leaves a shorter rectangle") {
    Room room = room_with({0, 4.4, 0}, {4.0, 5.0, 2.45});
    room.contents = {};
    Room shorter = room;
    shorter.plan.blocks.clear();
    shorter.length = 4.4, shorter.walls[back_wall] = wood;
    const auto exact = modal_transfer(shorter, Air{}, frequencies(), subs, seats);
    CHECK(apart(by_blocked(room), exact) < 0.25);
}

TEST_CASE("Blocked rectangle: as elements have it, wherever the block stands") {
    MeshOptions fine;
    fine.more_degrees = 1;
    const std::pair<Point, Point> blocks[] = {{{1.5, 4.4, 0}, {2.7, 5.0, 2.0}},
                                              {{0, 1.0, 0}, {0.5, 1.9, 0.9}},
                                              {{2.8, 4.5, 0}, {4.0, 5.0, 2.45}}};
    for (const auto& [from, to] : blocks) {
        const Room room = room_with(from, to);
        Room empty = room;
        empty.plan.blocks.clear();
        const auto full = ElementSolver(room, Air{}, fine).transfer(frequencies(), subs, seats);
        const double off = apart(by_blocked(room), full);
        INFO("block from " << from.x << ", " << from.y << ": " << off << " dB");
        CHECK(off < 0.4);
        CHECK(off < 0.25 * apart(modal_transfer(empty, Air{}, frequencies(), subs, seats), full));
        CHECK(apart(by_blocked(room, 1), full) < off);
    }
}

TEST_CASE("Blocked rectangle: what a small move does is told without solving anew") {
    const Room room = room_with({1.5, 4.4, 0}, {2.7, 5.0, 2.0});
    Room moved = room_with({1.53, 4.37, 0}, {2.76, 5.0, 2.03});
    moved.width = 4.02, moved.plan.blocks[0].to.y = moved.length = 5.01;
    std::vector<Point> places = subs;
    places.insert(places.end(), seats.begin(), seats.end());
    const std::vector<RoomVariant> both{{room, subs, seats, 1}, {moved, subs, seats, 1}};
    const auto z = BlockedRectangle(room, Air{}, 140, places).transfer(both, frequencies());
    const auto anew = by_blocked(moved);
    const double change = apart(z[0], anew);
    INFO(change << " dB by the move, " << apart(z[1], anew) << " dB off");
    CHECK(change > 0.2);
    CHECK(apart(z[1], anew) < 0.2 * change);
}
