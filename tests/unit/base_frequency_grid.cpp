// The logarithmic grid, means over ln f and octave smoothing: properties that follow from the
// definitions in the header, worked by hand.
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "base/error.hpp"
#include "base/frequency_grid.hpp"

using namespace boxroom;

namespace {

std::vector<double> smooth(const std::vector<double>& f, const std::vector<double>& power,
                           double octaves) {
    std::vector<double> out(f.size());
    OctaveSmoother smoother(f, octaves);
    REQUIRE(smoother.size() == f.size());
    smoother(power, out);
    return out;
}

}  // namespace

TEST_CASE("Logarithmic grid holds both ends and equal steps") {
    const auto f = logarithmic_grid({20, 160}, 48);  // three octaves
    REQUIRE(f.size() == 3 * 48 + 1);
    CHECK(f.front() == 20);
    CHECK(f.back() == Approx(160).epsilon(1e-14));
    for (std::size_t i = 48; i < f.size(); ++i) CHECK(f[i] == Approx(2 * f[i - 48]).epsilon(1e-13));
    CHECK(logarithmic_grid({10, 39.9}, 1).size() == 2);  // 10, 20; 40 is outside
    CHECK(logarithmic_grid({50, 50}, 12) == std::vector<double>{50});
    CHECK_THROWS_AS(logarithmic_grid({0, 200}, 48), Error);
    CHECK_THROWS_AS(logarithmic_grid({200, 20}, 48), Error);
    CHECK_THROWS_AS(logarithmic_grid({20, 200}, 0), Error);
}

TEST_CASE("Band contains both its ends, in spite of rounding") {
    const Band band{20, 120};
    CHECK(band.contains(20));
    CHECK(band.contains(120 * (1 + 1e-12)));
    CHECK_FALSE(band.contains(19.99));
    CHECK_FALSE(band.contains(120.01));
}

TEST_CASE("Mean over ln f by the trapezoidal rule: the ends count half") {
    const auto f = logarithmic_grid({10, 160}, 12);
    const auto w = log_mean_weights(f, {20, 80});
    for (std::size_t i = 0; i < f.size(); ++i) {
        const bool inside = i > 12 && i < 36, end = i == 12 || i == 36;
        CHECK(w[i] == Approx(inside ? 1.0 / 24 : end ? 0.5 / 24 : 0.0).margin(1e-14));
    }
}

TEST_CASE("Mean over ln f on an uneven grid: half the way to both neighbours") {
    // log2 f = 0, 1, 3 above 10 Hz: 0.5, 0.5 + 1, 1 of 3.
    const auto w = log_mean_weights(std::vector<double>{10, 20, 80}, {10, 80});
    CHECK(w[0] == Approx(0.5 / 3));
    CHECK(w[1] == Approx(1.5 / 3));
    CHECK(w[2] == Approx(1.0 / 3));
    CHECK(log_mean_weights(std::vector<double>{10, 20, 80}, {15, 30}) ==
          std::vector<double>{0, 1, 0});
    CHECK_THROWS_AS(log_mean_weights(std::vector<double>{10, 20, 80}, {30, 60}), Error);
    // A straight line over ln f has the mean of its ends, however the points lie.
    const std::vector<double> f{20, 21, 33, 34, 70, 71, 120};
    const auto line = log_mean_weights(f, {20, 120});
    double mean = 0;
    for (std::size_t i = 0; i < f.size(); ++i) mean += line[i] * (5 + 3 * std::log2(f[i] / 20));
    CHECK(mean == Approx(5 + 1.5 * std::log2(6.0)));
}

TEST_CASE("Smoothing leaves a constant alone, on any grid and width") {
    const std::vector<double> uneven{10, 11, 15, 16, 31, 33, 80, 200};
    for (double octaves : {1.0 / 48, 1.0 / 12, 1.0 / 3, 1.0, 20.0})
        for (double p : smooth(uneven, std::vector<double>(uneven.size(), 7.5), octaves))
            CHECK(p == Approx(7.5).epsilon(1e-13));
    CHECK(smooth({40}, {3}, 1.0)[0] == Approx(3));
}

TEST_CASE("Smoothing keeps the energy of a single spike and spreads it over the window") {
    // The spike is a triangle two steps wide and so one step in area. A window of 24 steps that
    // ends on its top holds half of it; one that ends a step before it, nothing.
    const auto f = logarithmic_grid({10, 160}, 48);
    std::vector<double> power(f.size(), 0.0);
    const std::size_t middle = 96;
    power[middle] = 1;
    const auto out = smooth(f, power, 0.5);
    CHECK(std::accumulate(out.begin(), out.end(), 0.0) == Approx(1).epsilon(1e-12));
    for (std::size_t i = 0; i < f.size(); ++i) {
        const std::size_t away = i > middle ? i - middle : middle - i;
        INFO(away << " steps away");
        CHECK(out[i] == Approx(away < 12 ? 1.0 / 24 : away == 12 ? 0.5 / 24 : 0.0).margin(1e-13));
    }
}

TEST_CASE("A window narrower than a step averages what runs straight to both neighbours") {
    // By hand: points one octave apart at 0, 6, 2; half a window of 1/8 octave to either side. The
    // lines fall by 6 and 4 an octave from the middle: their means are 6 x 1/16 and 4 x 1/16 below.
    const auto out = smooth({10, 20, 40}, {0, 6, 2}, 0.25);
    CHECK(out[1] == Approx(6 - (6.0 / 16 + 4.0 / 16) / 2));
    CHECK(out[0] == Approx(6.0 / 16));  // at the end only one half is left
    CHECK(out[2] == Approx(2 + 4.0 / 16));
}

TEST_CASE("A window over uneven points: the area under straight lines, by hand") {
    // log2 f = 0, 1, 1.5, 3 above 10 Hz, power 0, 2, 4, 1. The window of two octaves about 1.5 runs
    // from 0.5 to 2.5: (1 + 2)/2 x 0.5 + (2 + 4)/2 x 0.5 + (4 + 2)/2 x 1 = 5.25.
    const double f = std::exp2(1.5);
    const auto out = smooth({10, 20, 10 * f, 80}, {0, 2, 4, 1}, 2);
    CHECK(out[2] == Approx(5.25 / 2));
    // About 1, from 0 to 2: 1 + 1.5 + (4 + 3)/2 x 0.5 = 4.25.
    CHECK(out[1] == Approx(4.25 / 2));
}

TEST_CASE(
    "A slope in ln f passes unchanged where the window is whole, and is clipped at the ends") {
    const std::vector<double> f{10, 10.5, 12, 17, 19, 24, 31, 33, 46, 70, 71, 100, 160};
    std::vector<double> power;
    for (const double x : f) power.push_back(5 + 2 * std::log2(x / 10));
    const auto out = smooth(f, power, 1.0);
    for (std::size_t i = 0; i < f.size(); ++i) {
        const bool whole = f[i] >= 10 * std::sqrt(2.0) && f[i] <= 160 / std::sqrt(2.0);
        if (whole) CHECK(out[i] == Approx(power[i]).epsilon(1e-12));
    }
    // The first window keeps its upper half octave: the mean is a quarter of an octave up.
    CHECK(out.front() == Approx(5 + 2 * 0.25));
    CHECK(out.back() == Approx(5 + 2 * (4 - 0.25)));
}

TEST_CASE("Some of the points are smoothed as all of them are") {
    const std::vector<double> f{10, 10.5, 12, 17, 19, 24, 31, 33, 46, 70, 71, 100, 160};
    std::vector<double> power;
    for (std::size_t i = 0; i < f.size(); ++i) power.push_back(1 + i % 3 + 0.2 * (i % 5));
    for (const double octaves : {1.0, 1.0 / 12}) {
        const OctaveSmoother smoother(f, octaves);
        std::vector<double> all(f.size());
        smoother(power, all);
        for (std::size_t first = 0; first < f.size(); ++first)
            for (std::size_t end = first; end <= f.size(); ++end) {
                std::vector<double> some(end - first);
                smoother.smooth(power, first, end, some);
                for (std::size_t i = first; i < end; ++i)
                    CHECK(some[i - first] == Approx(all[i]).epsilon(1e-12));
            }
    }
}

TEST_CASE("Smoothing without a width is refused") {
    CHECK_THROWS_AS(OctaveSmoother(std::vector<double>{10, 20}, 0), Error);
}
