// Does the ranking of layouts that is commonly quoted come out? Welti (AES 112th Convention, 2002)
// and Welti & Devantier (JAES 54, 2006), from memory: two subs at opposite wall midpoints are
// nearly as good as four at all midpoints in seat-to-seat variation. Here: random rooms, random
// walls, a block of seats in the middle of the room, then off it; spread (as DESIGN section 3) and
// level, 20 to 80 Hz.
#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdio>
#include <random>

#include "placement/criteria.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;

namespace {

void table(bool centred) {
    const int rooms = 300;
    const Air air;
    const auto frequency = logarithmic_grid({15, 110}, 24);
    Target target;
    target.band = {20, 80};
    struct Layout {
        const char* name;
        std::vector<std::array<double, 2>> at;  // share of width and length
        std::vector<double> spread, level;
    };
    std::vector<Layout> layouts{
        {"1, front left corner", {{0, 0}}, {}, {}},
        {"1, front wall midpoint", {{.5, 0}}, {}, {}},
        {"2, front corners", {{0, 0}, {1, 0}}, {}, {}},
        {"2, diagonal corners", {{0, 0}, {1, 1}}, {}, {}},
        {"2, front and back midpoints", {{.5, 0}, {.5, 1}}, {}, {}},
        {"2, left and right midpoints", {{0, .5}, {1, .5}}, {}, {}},
        {"3, corners front, back midpoint", {{0, 0}, {1, 0}, {.5, 1}}, {}, {}},
        {"4, corners", {{0, 0}, {1, 0}, {0, 1}, {1, 1}}, {}, {}},
        {"4, wall midpoints", {{.5, 0}, {.5, 1}, {0, .5}, {1, .5}}, {}, {}},
        {"4, quarter points of front and back", {{.25, 0}, {.75, 0}, {.25, 1}, {.75, 1}}, {}, {}}};
    std::mt19937_64 random(1);
    const auto uniform = [&](double a, double b) {
        return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53;
    };
    for (int n = 0; n < rooms; ++n) {
        Room room;
        room.width = uniform(3.2, 6), room.length = room.width * uniform(1, 1.6);
        room.height = uniform(2.3, 3);
        for (Wall& wall : room.walls)  // rho c is 413 Pa s/m: absorption 0.5 to 0.03 or so
            wall = {{{413 * std::pow(10, uniform(0.8, 2.2)), 0, 0}}};
        std::vector<Seat> seats;
        const double aside = uniform(-.3, .3), back = uniform(.5, .7);
        const double x = room.width / 2 + (centred ? 0 : aside),
                     y = room.length * (centred ? .5 : back);
        for (int row = 0; row < 3; ++row)
            for (int column = 0; column < 3; ++column)
                seats.push_back({"", {x + 0.6 * (column - 1), y + 0.6 * (row - 1), 1.1}, 1});
        std::vector<Point> ears, subs;
        for (const Seat& seat : seats) ears.push_back(seat.at);
        for (const Layout& layout : layouts)
            for (const auto& at : layout.at)
                subs.push_back({std::clamp(at[0] * room.width, .3, room.width - .3),
                                std::clamp(at[1] * room.length, .3, room.length - .3), .25});
        const auto z = modal_transfer_many(room, air, frequency, subs, ears);
        const Judge judge(frequency, seats, target);
        std::size_t first = 0;
        for (Layout& layout : layouts) {
            ByFrequency<double> power(frequency.size(), ears.size());
            for (std::size_t f = 0; f < frequency.size(); ++f)
                for (std::size_t s = 0; s < ears.size(); ++s) {
                    std::complex<float> sum = 0;
                    for (std::size_t k = 0; k < layout.at.size(); ++k) sum += z.at(f, s, first + k);
                    power(f, s) = std::norm(sum / static_cast<float>(layout.at.size()));
                }
            first += layout.at.size();
            Criteria c;
            judge.judge_seats(power, c);
            judge.judge_average(judge.seat_average(power), c);
            layout.spread.push_back(c.spread_db);
            layout.level.push_back(c.level_db);
        }
    }
    std::printf("%d random rooms, 9 seats %s, 20 to 80 Hz; the same total output for each layout\n",
                rooms,
                centred ? "about the middle of the room" : "up to 0.3 m aside and 0 to 20 % back");
    std::printf("%-38s spread: 10 %%  median    90 %%    level, median re the corner\n", "layout");
    for (Layout& layout : layouts) {
        std::vector<double> level;
        for (int n = 0; n < rooms; ++n) level.push_back(layout.level[n] - layouts[0].level[n]);
        auto spread = layout.spread;
        std::ranges::sort(spread), std::ranges::sort(level);
        std::printf("%-38s      %6.2f  %6.2f  %6.2f dB %14.1f dB\n", layout.name,
                    spread[rooms / 10], spread[rooms / 2], spread[rooms * 9 / 10],
                    level[rooms / 2]);
    }
    int closer = 0;
    for (int n = 0; n < rooms; ++n)
        closer +=
            std::min(layouts[4].spread[n], layouts[5].spread[n]) <= layouts[8].spread[n] + 0.3;
    std::printf(
        "the better pair of opposite midpoints is within 0.3 dB of all four in %.0f %% of rooms\n",
        100.0 * closer / rooms);
}

}  // namespace

int main() {
    table(true);
    table(false);
}
