// The colours of maps against CIELAB worked out anew.
#include "picture/colour_map.hpp"

#include <catch2/catch.hpp>

#include "unit/cielab.hpp"

using namespace boxroom;

TEST_CASE("the colour map falls evenly in lightness") {
    // CIELAB of pure red, as printed in colour handbooks (from memory): 53.2, 80.1, 67.2.
    const Lab red = to_lab({255, 0, 0});
    REQUIRE(red.l == Approx(53.2).margin(0.1));
    REQUIRE(red.a == Approx(80.1).margin(0.2));
    REQUIRE(red.b == Approx(67.2).margin(0.2));
    CHECK(lightness({255, 0, 0}) == Approx(red.l).margin(0.1));

    const int steps =
        16;  // wide enough that rounding to 8 bits (about 0.5 a step) stays inside the tolerance
    const double mean_lightness_step = (to_lab(map_colour(0)).l - to_lab(map_colour(1)).l) / steps;
    CHECK(mean_lightness_step * steps > 70);
    double total = 0;
    for (int i = 0; i < steps; ++i)
        total +=
            apart(to_lab(map_colour(double(i) / steps)), to_lab(map_colour(double(i + 1) / steps)));
    for (int i = 0; i < steps; ++i) {
        const Lab p = to_lab(map_colour(double(i) / steps)),
                  q = to_lab(map_colour(double(i + 1) / steps));
        INFO("step " << i);
        CHECK(apart(p, q) == Approx(total / steps).epsilon(0.15));
        CHECK(p.l - q.l > 0.5 * mean_lightness_step);
        CHECK(p.l - q.l < 1.6 * mean_lightness_step);
    }
    // A printed page without colour, or the finest steps: never the wrong way.
    for (int i = 0; i < 256; ++i)
        CHECK(lightness(map_colour((i + 1) / 256.0)) <= lightness(map_colour(i / 256.0)) + 0.3);
    CHECK(map_colour(-3) == map_colour(0));
    CHECK(map_colour(7) == map_colour(1));
}
