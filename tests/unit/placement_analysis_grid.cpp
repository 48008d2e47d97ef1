// The criteria stand still when the analysis grid is doubled (design, section 12: 0.05 dB).
#include "placement/analysis_grid.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "unit/resolved_case.hpp"

using namespace boxroom;
using namespace boxroom::resolved;

namespace {

const Air air;

Room room(double width, double length, double height, double absorption) {
    Room r;
    r.width = width, r.length = length, r.height = height;
    for (Wall& wall : r.walls) wall = wall_from_absorption(absorption, air);
    return r;
}

}  // namespace

TEST_CASE("No criterion of twenty random rooms moves by 0.05 dB when the grid is doubled") {
    const Fineness once, twice{2 * once.per_octave, once.of_width / 2, once.of_distance / 2};
    const Band analysed{10, 200};
    const Target target{{20, 120}};
    std::mt19937_64 random(7);
    double even_is_off = 0;
    int reach_jumps = 0;
    for (int n = 0; n < 20; ++n) {
        const Case c = random_case(n, random, air);
        const auto grid = analysis_grid(c.room, air, analysed, target.band);
        const Criteria a = judged(c, air, target, grid),
                       b = judged(c, air, target,
                                  analysis_grid(c.room, air, analysed, target.band, twice));
        CAPTURE(n, c.room.width, grid.size());
        for (const auto member : {&Criteria::spread_db, &Criteria::unevenness_db,
                                  &Criteria::balance_db, &Criteria::level_db})
            CHECK(a.*member == Approx(b.*member).margin(0.05));
        reach_jumps += a.reach_hz != Approx(b.reach_hz).epsilon(0.02);
        if (n % 3) continue;  // of the live ones, 48 even points an octave miss the peaks
        const Criteria even = judged(c, air, target, logarithmic_grid(analysed, 48));
        even_is_off = std::max(even_is_off, std::abs(even.unevenness_db - b.unevenness_db));
    }
    CHECK(even_is_off > 0.1);
    // Reach is where a curve crosses a line for good: it jumps where a dip only just touches it.
    CHECK(reach_jumps <= 1);
}

TEST_CASE("A damped room needs no more points than the even ones") {
    const Room damped = room(3.6, 4.8, 2.4, 0.3);
    const auto grid = analysis_grid(damped, air, {10, 200}, {20, 120});
    CHECK(grid.size() <= logarithmic_grid({10, 200}, 48).size() + 2);
    // No rectangle: its modes are not known.
    Room l_shaped = room(4, 5, 2.5, 0.02);
    l_shaped.plan.outline = {{0, 0, 0}, {4, 0, 0}, {4, 3, 0}, {2, 3, 0}, {2, 5, 0}, {0, 5, 0}};
    CHECK(analysis_grid(l_shaped, air, {10, 200}, {20, 120}).size() <=
          logarithmic_grid({10, 200}, 48).size() + 2);
}

TEST_CASE("Grids for many rooms near one resolve the modes of each") {
    const Room drawn = room(4.2, 5.9, 2.6, 0.02);
    const Band analysed{10, 200};
    const Target target{{20, 120}};
    const NearbyGrids grids(drawn, air, analysed, target.band);
    const Fineness fine{96, 0.65, 0.2};
    double even_is_off = 0;
    for (const double way : {-1.0, 1.0}) {
        Case near{drawn, {0.5, 0.4, 0.25}, {{"a", {1.3, 2.9, 1.1}, 1}, {"b", {2.1, 3.1, 1.15}, 1}}};
        near.room.width += 0.05 * way, near.room.length -= 0.05 * way;
        near.room.height += 0.03 * way;
        for (Wall& wall : near.room.walls)
            for (Branch& branch : wall.branches) branch.resistance *= std::pow(2.0, way);
        const Criteria a = judged(near, air, target, grids.of(near.room)),
                       b = judged(near, air, target,
                                  analysis_grid(near.room, air, analysed, target.band, fine)),
                       even = judged(near, air, target, logarithmic_grid(analysed, 48));
        for (const auto member : {&Criteria::spread_db, &Criteria::unevenness_db,
                                  &Criteria::balance_db, &Criteria::level_db}) {
            CHECK(a.*member == Approx(b.*member).margin(0.05));
            even_is_off = std::max(even_is_off, std::abs(even.*member - b.*member));
        }
    }
    CHECK(even_is_off > 0.1);
}
