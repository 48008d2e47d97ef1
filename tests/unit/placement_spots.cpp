#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"
#include "placement/planning.hpp"
#include "placement/spot_fields.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;

namespace {

Scenario scenario() {
    Scenario s;
    s.acoustics.room = {4.1, 5.2, 2.45, {}, {}};
    for (Wall& wall : s.acoustics.room.walls) wall.branches = {{9000, 0, 0}};
    s.design.driver = {27, 0.45, 0.038, {}, {}, {}, {}, {}, {}, {}, {}, {}};
    s.seats = {{"left", {1.4, 3.6, 1.1}, 1}, {"right", {2.6, 3.6, 1.1}, 1}};
    s.wanted.keep_outs = {{"door", 3.2, 4.1, 4.1, 5.2}};
    s.wanted.spots.step = 0.25;
    s.judgement.target.band = {30, 120};
    s.acoustics.frequency = logarithmic_grid({15, 160}, 24);
    return s;
}

}  // namespace

TEST_CASE("Spots run from wall to wall, one gap off, and keep off what is kept free") {
    const Scenario s = scenario();
    const Sides box = enclosure(0.025, s.design.enclosure);
    const SpotGrid grid(s, box);
    const Point first = grid.footprint(0, box), last = grid.footprint(grid.size() - 1, box);
    CHECK(first.x - box.width / 2 == Approx(s.wanted.spots.gap));
    CHECK(first.y - box.depth / 2 == Approx(s.wanted.spots.gap));
    CHECK(s.acoustics.room.width - last.x - box.width / 2 == Approx(s.wanted.spots.gap));
    CHECK(s.acoustics.room.length - last.y - box.depth / 2 == Approx(s.wanted.spots.gap));
    CHECK(grid.footprint(1, box).x - first.x <= s.wanted.spots.step + 1e-12);
    CHECK(grid.fits(0, box));
    CHECK_FALSE(grid.fits(grid.size() - 1, box));  // the door
    int allowed = 0;
    for (int spot = 0; spot < grid.size(); ++spot) {
        if (!grid.fits(spot, box)) continue;
        ++allowed;
        const Point p = grid.footprint(spot, box);
        CHECK_FALSE((p.x + box.width / 2 > 3.2 + 1e-9 && p.y + box.depth / 2 > 4.1 + 1e-9));
        for (const Seat& seat : s.seats)
            CHECK(std::hypot(p.x - seat.at.x, p.y - seat.at.y) >= s.wanted.spots.seat_clearance);
        CHECK(s.acoustics.room.contains(grid.centre(spot, box)));
    }
    CHECK(allowed > 50);
}

TEST_CASE("Spots keep the gap from the inner walls of a room that is no rectangle too") {
    Scenario s = scenario();
    s.wanted.keep_outs.clear();
    s.seats = {{"one", {1.0, 4.6, 1.1}, 1}};
    s.wanted.spots.gap = 0.08, s.wanted.spots.step = 0.05;
    s.acoustics.room.plan.outline = {{0, 0, 0},   {4.1, 0, 0},   {4.1, 3, 0},
                                     {2.5, 3, 0}, {2.5, 5.2, 0}, {0, 5.2, 0}};
    const Sides box = enclosure(0.02, s.design.enclosure);
    const SpotGrid grid(s, box);
    double right = 0, back = 0;
    for (int spot = 0; spot < grid.size(); ++spot) {
        if (!grid.fits(spot, box)) continue;
        const Sides stands = turned(box, grid.facing(spot));
        const Point p = grid.footprint(spot, box);
        const double x1 = p.x + stands.width / 2, y1 = p.y + stands.depth / 2;
        const bool clear =
            x1 <= 2.5 - s.wanted.spots.gap + 2e-4 || y1 <= 3 - s.wanted.spots.gap + 2e-4;
        CHECK(clear);
        if (y1 > 3) right = std::max(right, x1);
        if (x1 > 2.5) back = std::max(back, y1);
    }
    CHECK(right > 2.5 - s.wanted.spots.gap - 0.06);  // and no more than the step is lost
    CHECK(back > 3 - s.wanted.spots.gap - 0.06);
}

TEST_CASE("The driver looks away from the nearest wall") {
    const Scenario s = scenario();
    const Sides box = enclosure(0.025, s.design.enclosure);
    const SpotGrid grid(s, box);
    const int along_left = grid.nx() * (grid.ny() / 2);
    CHECK(grid.facing(along_left) == Facing::right);
    CHECK(grid.centre(along_left, box).x ==
          Approx(grid.footprint(along_left, box).x + box.depth / 2));  // turned by a quarter
    CHECK(grid.footprint(along_left, box).x == Approx(s.wanted.spots.gap + box.depth / 2));
    CHECK(grid.facing(grid.nx() / 2) == Facing::back);
}

TEST_CASE("A deep box turns with its driver and still stands within the walls") {
    Scenario s = scenario();
    s.design.enclosure.proportion_depth = 3, s.design.enclosure.feet = 0.02;
    const Sides box = enclosure(0.040, s.design.enclosure);
    const SpotGrid grid(s, box);
    for (int spot = 0; spot < grid.size(); ++spot) {
        const bool sideways =
            grid.facing(spot) == Facing::left || grid.facing(spot) == Facing::right;
        const double along_x = sideways ? box.depth : box.width;
        const double along_y = sideways ? box.width : box.depth;
        const Point p = grid.footprint(spot, box), c = grid.centre(spot, box);
        CHECK(p.x - along_x / 2 >= s.wanted.spots.gap - 1e-9);
        CHECK(p.x + along_x / 2 <= s.acoustics.room.width - s.wanted.spots.gap + 1e-9);
        CHECK(p.y - along_y / 2 >= s.wanted.spots.gap - 1e-9);
        CHECK(p.y + along_y / 2 <= s.acoustics.room.length - s.wanted.spots.gap + 1e-9);
        // The cone looks out of the narrow panel, half a depth from the middle.
        CHECK(std::hypot(c.x - p.x, c.y - p.y) == Approx(box.depth / 2));
    }
}

TEST_CASE("A room too small for the smallest box is refused") {
    Scenario s = scenario();
    s.acoustics.room.width = 0.3;
    CHECK_THROWS_AS(SpotGrid(s, enclosure(0.05, s.design.enclosure)), Error);
}

TEST_CASE("Interpolating in the size of the box stays within 0.01 dB of solving for it") {
    const Scenario s = scenario();
    const double small = 0.006, large = 0.140, between = 0.0413;
    const Sides box = enclosure(between, s.design.enclosure);
    const SpotGrid grid(s, enclosure(small, s.design.enclosure));
    const SpotFields fields(s, grid, small, large);
    std::vector<double> squared(s.acoustics.frequency.size() * s.seats.size() * grid.size());
    for (int first = 0; first < grid.size(); first += SpotBlock::most) {
        const SpotBlock block(fields, first);
        for (int n = 0; n < block.count(); ++n) {
            const auto power = block.squared(n, between);
            for (std::size_t i = 0; i < power.values().size(); ++i)
                squared[i * grid.size() + first + n] = power.values()[i];
        }
    }

    std::vector<Point> centres, seats;
    for (int spot = 0; spot < grid.size(); ++spot) centres.push_back(grid.centre(spot, box));
    for (const Seat& seat : s.seats) seats.push_back(seat.at);
    const auto exact = modal_transfer_many(s.acoustics.room, s.acoustics.air, s.acoustics.frequency,
                                           centres, seats);
    std::vector<double> error;
    double strongest = 0;
    for (std::size_t i = 0; i < squared.size(); ++i)
        strongest = std::max(strongest, static_cast<double>(std::norm(exact.value[i])));
    for (std::size_t i = 0; i < squared.size(); ++i)
        if (std::norm(exact.value[i]) > 1e-4 * strongest && grid.fits(i % grid.size(), box))
            error.push_back(std::abs(10 * std::log10(squared[i] / std::norm(exact.value[i]))));
    std::sort(error.begin(), error.end());
    CHECK(error[error.size() * 99 / 100] < 0.01);
    CHECK(error.back() < 0.2);  // in nulls
}

TEST_CASE("Some spots alone, and the mean over the seats, are those of the whole floor") {
    const Scenario s = scenario();
    const double small = 0.006, large = 0.140, between = 0.0413;
    const SpotGrid grid(s, enclosure(small, s.design.enclosure));
    std::vector<std::uint8_t> wanted(grid.size());
    for (int spot = 1; spot < grid.size(); spot += 3) wanted[spot] = 1;
    const SpotFields all(s, grid, small, large), some(s, grid, small, large, wanted);
    REQUIRE(some.size() == (grid.size() + 1) / 3);
    const std::vector<double> weight{0.5, 0.2, 0.3};
    REQUIRE(s.seats.size() <= weight.size());
    const std::span seats(weight.data(), s.seats.size());
    const std::vector<double> scale(s.acoustics.frequency.size(), 2.5);
    for (const int n : {0, 7, some.size() - 1}) {
        const int spot = some.spot(n);
        CHECK(some.number(spot) == n);
        const SpotBlock block(some, n);
        const auto one = block.squared(0, between),
                   other = SpotBlock(all, spot).squared(0, between);
        const auto mean = block.mean(0, seats).times(scale, some.product_weights(between));
        for (std::size_t f = 0; f < mean.size(); ++f) {
            double plain = 0, whole = 0;
            for (std::size_t k = 0; k < seats.size(); ++k) {
                plain += 2.5 * seats[k] * one(f, k);
                whole += 2.5 * seats[k] * other(f, k);
            }
            CHECK(mean[f] == Approx(plain).epsilon(1e-4));
            CHECK(plain == Approx(whole).epsilon(1e-4));
        }
    }
}

TEST_CASE("The plan holds together") {
    const Scenario s = scenario();
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    Timings timings;
    const Plan plan = make_plan(s, driver, timings);
    const BoxOption &best = plan.boxes[plan.in_room_best], &build = plan.boxes[plan.build];
    for (const BoxOption& box : plan.boxes) {
        if (box.fits) CHECK(box.in_room_balance_db >= best.in_room_balance_db - 1e-9);
        CHECK(box.half_space_balance_db >=
              plan.boxes[plan.half_space_best].half_space_balance_db - 1e-9);
    }
    CHECK(build.volume <= best.volume);
    CHECK(build.in_room_balance_db <=
          best.in_room_balance_db + s.judgement.target.indifference + 1e-9);
    CHECK(plan.boxes[plan.textbook].qtc == Approx(1 / std::sqrt(2.0)));
    for (std::size_t n = 1; n < plan.spots.size(); ++n)
        CHECK(plan.spots[n - 1].criteria.score <= plan.spots[n].criteria.score);

    // The first spot with its box, listened to by the exact solver, is what the ranking says.
    const ClosedBox box = closed_box(driver, plan.spot_boxes[0].volume, s.design.filling);
    const Listening heard = listen(s, driver, box, {{"there", plan.spots[0].positions[0]}});
    CHECK(heard.criteria.spread_db == Approx(plan.spots[0].criteria.spread_db).margin(0.02));
    CHECK(heard.criteria.balance_db == Approx(plan.spots[0].criteria.balance_db).margin(0.02));
    CHECK(heard.criteria.unevenness_db ==
          Approx(plan.spots[0].criteria.unevenness_db).margin(0.02));
}
