#include "placement/floor_need.hpp"

#include <catch2/catch.hpp>

#include "base/error.hpp"
#include "placement/spots.hpp"

using namespace boxroom;

namespace {

Scenario scenario() {
    Scenario s;
    s.acoustics.room = {4.1, 5.2, 2.45, {}, {}};
    s.design.driver = {27, 0.45, 0.038, {}, {}, {}, {}, {}, {}, {}, {}, {}};
    s.seats = {{"left", {1.4, 3.6, 1.1}, 1}, {"right", {2.6, 3.6, 1.1}, 1}};
    s.wanted.keep_outs = {{"door", 3.2, 4.1, 4.1, 5.2}};
    s.acoustics.frequency = logarithmic_grid({15, 160}, 48);
    return s;
}

const ClosedBox box = [] {
    ClosedBox b;
    b.volume = 0.025;
    return b;
}();

}  // namespace

TEST_CASE("How many spots there are is told before they are looked for") {
    Scenario s = scenario();
    const Sides outer = enclosure(box.volume, s.design.enclosure);
    for (const double step : {0.02, 0.05, 0.1, 0.3}) {
        s.wanted.spots.step = step;
        const SpotGrid grid(s, outer);
        double fit = 0;
        for (int spot = 0; spot < grid.size(); ++spot) fit += grid.fits(spot, outer);
        CHECK(floor_need(s, box, FloorSearch::one_box).spots == Approx(fit).epsilon(0.15));
    }
}

TEST_CASE("What is kept grows with spots, seats and frequencies; pairs with the square of spots") {
    Scenario s = scenario();
    s.wanted.spots.step = 0.02;
    const FloorNeed one = floor_need(s, box, FloorSearch::one_box);
    // Single-precision complex numbers, 8 bytes each, and a third more while they are solved for.
    const double field = one.spots * 32 / 3 * s.acoustics.frequency.size() * s.seats.size();
    CHECK(one.bytes > field);
    CHECK(floor_need(s, box, FloorSearch::boxes).bytes - one.bytes == Approx(3 * field));
    const double sets = floor_need(s, box, FloorSearch::many_subs).bytes;
    CHECK(sets - one.bytes == Approx(4 * field + one.spots * one.spots));
    s.wanted.set_volumes = {0.02, 0.03};
    CHECK(floor_need(s, box, FloorSearch::many_subs).bytes > sets + 3 * one.spots * one.spots);
}

TEST_CASE("A floor too fine for the memory is refused, with a step that is not") {
    Scenario s = scenario();
    s.wanted.spots.step = 0.01;
    CHECK_NOTHROW(require_memory_for_floor(s, box, FloorSearch::many_subs, 1e11));
    try {
        require_memory_for_floor(s, box, FloorSearch::many_subs, usual_memory);
        FAIL("15 GB of pairs were taken for 2");
    } catch (const Error& error) {
        const Fault& fault = error.faults().front();
        CHECK(fault.what.find("more than 2.0 GB") != std::string::npos);
        const auto at = fault.mend.find("step = \"");
        REQUIRE(at != std::string::npos);
        s.wanted.spots.step = std::stod(fault.mend.substr(at + 8)) / 100;
    }
    CHECK(s.wanted.spots.step > 0.01);
    CHECK_NOTHROW(require_memory_for_floor(s, box, FloorSearch::many_subs, usual_memory));
    s.wanted.spots.step -= 0.01;  // and no wider than it must be
    CHECK_THROWS_AS(require_memory_for_floor(s, box, FloorSearch::many_subs, usual_memory), Error);
}

TEST_CASE(
    "More subs, seats and frequencies than there is memory for are refused with their numbers") {
    Scenario s = scenario();
    const double f = static_cast<double>(s.acoustics.frequency.size());
    s.placed.subs.resize(10);
    s.placed.mains.resize(2);
    // Four copies of complex numbers of 16 bytes, besides the program itself.
    const double fields = 4 * 16 * f * 12 * 2;
    CHECK_NOTHROW(require_memory_for_listening(s, 1e8 + fields));
    try {
        require_memory_for_listening(s, fields);
        FAIL("not refused");
    } catch (const Error& error) {
        const std::string said = error.what();
        CHECK(said.find("12 subs and main loudspeakers, 2 seats") != std::string::npos);
    }
}
