// The prepared room against modal_transfer, which sums each pair afresh and further out.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "base/frequency_grid.hpp"
#include "solvers/modal.hpp"
#include "solvers/prepared_room.hpp"

using namespace boxroom;

TEST_CASE("moving points and walls about in a prepared room changes nothing but the time") {
    const Air air;
    Room room;
    room.width = 5.3, room.length = 3.9, room.height = 2.6;
    const double absorption[] = {0.02, 0.3, 0.1, 0.05, 0.2, 0.6};
    for (int w = 0; w < 6; ++w) room.walls[w] = wall_from_absorption(absorption[w], air);
    room.walls[3].branches = {{2200, 11, 1.8e6}};
    const auto frequency = logarithmic_grid({10, 200}, 6);
    PreparedRoom prepared(room, air, frequency);
    std::mt19937 random(5);
    const auto share = [&] { return std::uniform_real_distribution<>(0, 1)(random); };
    const auto anywhere = [&](double low, double high) {
        return Point{room.width * share(), room.length * share(), low + (high - low) * share()};
    };
    double worst = 0;
    for (int round = 0; round < 12; ++round) {
        std::vector<Point> from, to;
        for (int i = 0; i < 2; ++i) from.push_back(anywhere(0.1, 0.6));
        for (int i = 0; i < 3; ++i) to.push_back(anywhere(0.8, 1.3));
        if (round == 3)
            room.walls[0] = wall_from_absorption(0.5, air), prepared.set_wall(0, room.walls[0]);
        if (round == 6)
            room.walls[4] = wall_from_absorption(0.01, air), prepared.set_wall(4, room.walls[4]);
        const auto got = prepared.transfer(from, to);
        const auto want = modal_transfer(room, air, frequency, from, to);
        for (std::size_t i = 0; i < want.value.size(); ++i)
            worst = std::max(worst, std::abs(got.value[i] / want.value[i] - 1.0));
    }
    CHECK(worst < 1e-4);  // 0.001 dB
    CHECK_THROWS(prepared.transfer(std::vector<Point>{{-1, 1, 1}}, std::vector<Point>{{1, 1, 1}}));
}

TEST_CASE("a prepared room of any height agrees with the whole sum") {
    const Air air;
    const double frequency[] = {20, 63, 160};
    for (const double height : {2.1, 6.5, 14.0, 30.0}) {
        Room room;
        room.width = 5, room.length = 7, room.height = height;
        for (auto& wall : room.walls) wall = wall_from_absorption(0.1, air);
        PreparedRoom prepared(room, air, frequency);
        // Near the floor, near the ceiling, and a source above its receiver.
        for (const double low : {0.02, height / 2, height - 0.06 * height - 0.32}) {
            const Point from[] = {{0.4, 0.5, low}}, to[] = {{3, 4, low + 0.06 * height + 0.3}};
            for (const bool swapped : {false, true}) {
                const auto got =
                    swapped ? prepared.transfer(to, from) : prepared.transfer(from, to);
                const auto want = modal_transfer(room, air, frequency, from, to);
                for (std::size_t f = 0; f < 3; ++f) {
                    INFO(height << " m, " << low << " m, " << frequency[f] << " Hz");
                    CHECK(std::abs(got.at(f, 0, 0) / want.at(f, 0, 0) - 1.0) < 1e-4);
                }
            }
        }
    }
}
