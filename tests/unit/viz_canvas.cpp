// What is drawn on the CPU stays on its picture.
#include "viz/canvas.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

using namespace boxroom;

TEST_CASE("strokes that end on whole pixels are drawn within the canvas") {
    // The edge of all boxes together and that of the longest one differ by rounding: a mask made
    // for the one and filled by the other was written beyond its end, and the heap was spoilt.
    std::mt19937 random(1);
    for (int n = 0; n < 20000; ++n) {
        Canvas canvas(60, 2);
        std::uniform_real_distribution<double> left(0, 20), more(0, 30);
        const double a = left(random), b = a + more(random) / 2;
        const double right = std::floor(b + more(random));
        canvas.lines({{{a, 1}, {a + 1, 1}}, {{b, 1}, {b + (right - b), 1}}}, {0, 0, 0}, 2);
        CHECK(canvas.at(int(a) + 1, 0) == canvas.at(int(a) + 1, 1));  // alike above and below
    }
}
