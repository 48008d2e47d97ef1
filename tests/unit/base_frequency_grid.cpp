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

TEST_CASE("Mean over ln f is the plain mean on an even grid") {
    const auto f = logarithmic_grid({10, 160}, 12);
    const auto w = log_mean_weights(f, {20, 80});
    for (std::size_t i = 0; i < f.size(); ++i)
        CHECK(w[i] == Approx(i >= 12 && i <= 36 ? 1.0 / 25 : 0.0).margin(1e-14));
}

TEST_CASE("Mean over ln f on an uneven grid: cells by hand") {
    // ln2 f = 0, 1, 3 above 10 Hz: edges -0.5, 0.5, 2, 4; widths 1, 1.5, 2 of 4.5.
    const auto w = log_mean_weights(std::vector<double>{10, 20, 80}, {10, 80});
    CHECK(w[0] == Approx(1 / 4.5));
    CHECK(w[1] == Approx(1.5 / 4.5));
    CHECK(w[2] == Approx(2 / 4.5));
    CHECK(log_mean_weights(std::vector<double>{10, 20, 80}, {15, 30}) ==
          std::vector<double>{0, 1, 0});
    CHECK_THROWS_AS(log_mean_weights(std::vector<double>{10, 20, 80}, {30, 60}), Error);
}

TEST_CASE("Smoothing leaves a constant alone, on any grid and width") {
    const std::vector<double> uneven{10, 11, 15, 16, 31, 33, 80, 200};
    for (double octaves : {1.0 / 48, 1.0 / 12, 1.0 / 3, 1.0, 20.0})
        for (double p : smooth(uneven, std::vector<double>(uneven.size(), 7.5), octaves))
            CHECK(p == Approx(7.5).epsilon(1e-13));
    CHECK(smooth({40}, {3}, 1.0)[0] == Approx(3));
}

TEST_CASE("Smoothing keeps the energy of a single spike and spreads it over the window") {
    const auto f = logarithmic_grid({10, 160}, 48);
    std::vector<double> power(f.size(), 0.0);
    const std::size_t middle = 96;
    power[middle] = 1;
    const auto out = smooth(f, power, 0.5);  // 24 cells wide: 23 whole ones and two halves
    CHECK(std::accumulate(out.begin(), out.end(), 0.0) == Approx(1).epsilon(1e-12));
    for (std::size_t i = 0; i < f.size(); ++i) {
        const std::size_t away = i > middle ? i - middle : middle - i;
        INFO(away << " cells away");
        CHECK(out[i] == Approx(away < 12 ? 1.0 / 24 : away == 12 ? 0.5 / 24 : 0.0).margin(1e-13));
    }
}

TEST_CASE("A window narrower than a cell returns the point itself") {
    const auto f = logarithmic_grid({10, 160}, 6);
    std::vector<double> power(f.size());
    for (std::size_t i = 0; i < f.size(); ++i) power[i] = static_cast<double>(i * i % 7);
    const auto out = smooth(f, power, 1.0 / 12);
    for (std::size_t i = 0; i < f.size(); ++i) CHECK(out[i] == Approx(power[i]).margin(1e-13));
}

TEST_CASE(
    "A slope in ln f passes unchanged where the window is whole, and is clipped at the ends") {
    const int per_octave = 24;
    const auto f = logarithmic_grid({10, 160}, per_octave);
    std::vector<double> power(f.size());
    for (std::size_t i = 0; i < f.size(); ++i) power[i] = 5 + 2 * std::log2(f[i] / 10);
    const auto out = smooth(f, power, 1.0);
    for (std::size_t i = per_octave / 2; i + per_octave / 2 < f.size(); ++i)
        CHECK(out[i] == Approx(power[i]).epsilon(1e-12));
    // The first window keeps its upper half octave and the lower half of the first cell. By hand,
    // in cells: half a cell below and 12 above its point; cells 0 (whole), 1..11, half of cell 12.
    double sum = power[0] + 0.5 * power[12];
    for (int n = 1; n < 12; ++n) sum += power[n];
    CHECK(out[0] == Approx(sum / 12.5).epsilon(1e-12));
}

TEST_CASE("Smoothing without a width is refused") {
    CHECK_THROWS_AS(OctaveSmoother(std::vector<double>{10, 20}, 0), Error);
}
