#include <catch2/catch.hpp>
#include <cmath>
#include <complex>

#include "solvers/modal.hpp"
#include "solvers/mode_shape.hpp"

using namespace boxroom;

namespace {

Room live_room() {
    Room room;
    room.width = 3.1, room.length = 4.3, room.height = 2.5;
    room.walls.fill(wall_from_absorption(0.05, Air{}));
    return room;
}

}  // namespace

TEST_CASE("all terms of the room's sum together are the room") {
    // Z = sum_N Z_N (Morse & Ingard 1968, ch. 9), against the closed form along one axis. The sum
    // is cut off at order 12; on a mode what is left out is below 2 %.
    const Room room = live_room();
    const Air air;
    const Point source{0.3, 0.4, 0.3}, receiver{2.2, 3.1, 1.2};
    for (const double f : {room_modes(room, air, 60).front().frequency, 58.0}) {
        std::complex<double> sum = 0;
        for (int x = 0; x <= 12; ++x)
            for (int y = 0; y <= 12; ++y)
                for (int z = 0; z <= 12; ++z) {
                    const ModeShape one(room, air, Mode{{x, y, z}, f, 0, 0});
                    sum += one.transfer() * one.at(source) * one.at(receiver);
                }
        const double frequency[] = {f};
        const Point from[] = {source}, to[] = {receiver};
        const auto exact = modal_transfer(room, air, frequency, from, to).at(0, 0, 0);
        CHECK(std::abs(sum - exact) < 0.02 * std::abs(exact));
    }
}

TEST_CASE("a mode by itself is nearly the whole response on its resonance, where nothing is near") {
    const Room room = live_room();
    const Air air;
    const Mode lowest = room_modes(room, air, 60).front();
    REQUIRE(lowest.order == std::array<int, 3>{0, 1, 0});
    const ModeShape shape(room, air, lowest);
    const Point source{0.3, 0.4, 0.3}, receiver{2.2, 4.1, 1.2};
    const double frequency[] = {lowest.frequency};
    const Point from[] = {source}, to[] = {receiver};
    const double exact = std::abs(modal_transfer(room, air, frequency, from, to).at(0, 0, 0));
    const double alone = std::abs(shape.transfer() * shape.at(source) * shape.at(receiver));
    CHECK(20 * std::log10(alone / exact) == Approx(0).margin(1.5));
    // psi is cos(pi y/L) but for the walls' little give.
    CHECK(std::abs(shape.at({1, 4.3 / 2, 1})) < 0.1);
    CHECK(std::abs(shape.at({1, 4.3, 1})) == Approx(1).margin(0.1));
}
