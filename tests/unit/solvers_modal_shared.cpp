// Sums that share what repeats against those of each pair by itself.
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/modal.hpp"

using namespace boxroom;

TEST_CASE("Shared sums: as pair by pair, in every digit that was asked for") {
    Room room{4.1, 5.3, 2.5, {}, {}};
    const Wall studs{{{2200, 11, 1.8e6}}}, brick{{{3e5, 0, 0}}};
    for (int w = 0; w < 6; ++w) room.walls[w] = w % 2 ? studs : brick;
    room.contents = contents_of(find_named_contents("furnished"), room.volume());
    const std::vector<double> frequency{11, 34, 71.5, 160};
    const std::vector<Point> seats{{2.0, 3.1, 1.1}, {3.1, 3.1, 1.1}, {1.2, 4.4, 1.25}};
    // Several of a column, of a row and of a height, and one that shares nothing.
    const std::vector<Point> spots{{0.3, 0.4, 0.2},  {0.3, 2.9, 0.2},  {3.7, 0.4, 0.2},
                                   {3.7, 2.9, 0.35}, {0.3, 0.4, 0.35}, {1.93, 0.27, 0.5}};
    const auto each = modal_transfer(room, Air{}, frequency, spots, seats);
    const auto apart = [&](double decay) {
        const auto shared = modal_transfer_shared(room, Air{}, frequency, spots, seats, decay);
        double worst = 0;
        for (std::size_t i = 0; i < each.value.size(); ++i)
            worst = std::max(worst, std::abs(shared.value[i] / each.value[i] - 1.0));
        return worst;
    };
    CHECK(apart(23) < 1e-8);
    CHECK(apart(12) < 1e-4);  // 0.001 dB
    CHECK(apart(12) > apart(16));
    CHECK_THROWS_AS(
        modal_transfer_shared(room, Air{}, frequency, std::vector<Point>{{5, 1, 1}}, seats, 12),
        std::exception);
    // Sources at ear height have no axis in common.
    const std::vector<Point> high{{0.5, 0.4, 1.1}, {3.1, 0.7, 1.2}};
    const auto there = modal_transfer_shared(room, Air{}, frequency, high, seats, 12),
               wanted = modal_transfer(room, Air{}, frequency, high, seats);
    for (std::size_t i = 0; i < there.value.size(); ++i)
        CHECK(std::abs(there.value[i] / wanted.value[i] - 1.0) < 1e-4);
}
