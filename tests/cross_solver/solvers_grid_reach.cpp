// Runs that are kept at nodes, against runs for just the two points.
#include "solvers/grid_reach.hpp"

#include <catch2/catch.hpp>

using namespace boxroom;

namespace {

/// An L of 3.2 m by 3 m with a block, damped so that runs are short.
Room l_room() {
    Room room{3.2, 3.0, 2.2, {}, {}, {}};
    const Wall wall{{{2500, 0, 0}}};
    for (Wall& w : room.walls) w = wall;
    room.plan.outline = {{0, 0, 0},     {3.2, 0, 0}, {3.2, 1.5, 0},
                         {1.8, 1.5, 0}, {1.8, 3, 0}, {0, 3, 0}};
    for (int i = 0; i < 6; ++i) room.plan.edges.push_back({"edge", wall, ""});
    room.plan.blocks.push_back({"chest", {0, 1, 0}, {0.5, 2, 0.8}, {"chest", wall, ""}});
    return room;
}

/// The largest difference over the largest value.
double difference(const NodeField& field, const NodeWeights& weights,
                  const TransferImpedance<double>& z) {
    double most = 0, largest = 0;
    for (std::size_t f = 0; f < z.frequencies; ++f) {
        most = std::max(most, std::abs(field.at(weights, f) - z.at(f, 0, 0)));
        largest = std::max(largest, std::abs(z.at(f, 0, 0)));
    }
    return most / largest;
}

}  // namespace

TEST_CASE("a kept run gives what the two points alone give, and the same backwards") {
    const Room room = l_room();
    const std::vector<double> frequency{25, 40, 63, 90};
    const GridReach reach(room, Air{}, frequency, {});
    const Point seat{1.1, 2.2, 1.05};
    const NodeField from_seat = reach.solve(seat, 0.1, 0.4, {}, nullptr, nullptr);
    // In the open, in a corner, in the angle of the L, between the chest and the wall.
    for (const Point sub :
         {Point{1.33, 0.71, 0.22}, {0.05, 0.05, 0.12}, {1.75, 1.45, 0.3}, {0.3, 2.4, 0.25}}) {
        const NodeWeights weights = reach.weights(sub);
        REQUIRE(from_seat.reaches(weights));
        const auto z = grid_transfer(room, Air{}, frequency, std::vector{sub}, std::vector{seat});
        CHECK(difference(from_seat, weights, z) < 0.006);  // 0.05 dB: what a run may leave
        const NodeField from_sub = reach.solve(sub, 1, 1.1, {}, nullptr, nullptr);
        CHECK(difference(from_sub, reach.weights(seat), z) < 0.006);
    }
    CHECK_FALSE(from_seat.reaches(reach.weights({1.2, 1.2, 1.5})));
}

TEST_CASE("a run that is stopped gives nothing") {
    const GridReach reach(l_room(), Air{}, {25, 40}, {});
    CHECK(reach.solve({1, 1, 1}, 1, 1, {}, nullptr, [] { return true; }).empty());
    CHECK_FALSE(reach.solve({1, 1, 1}, 1, 1, {}, nullptr, [] { return false; }).empty());
}
