// Points round resonances: where they stand, how close, and what the trapezoidal rule then makes of
// a peak whose integral is known.
#include "base/resolved_grid.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace boxroom;

namespace {

/// Widest step in ln f between `low` and `high`.
double widest(const std::vector<double>& f, double low, double high) {
    double step = 0;
    for (std::size_t i = 1; i < f.size(); ++i)
        if (f[i - 1] >= low && f[i] <= high) step = std::max(step, std::log(f[i] / f[i - 1]));
    return step;
}

}  // namespace

TEST_CASE("Without sharp resonances the grid is the even one, with the ends of the judged band") {
    const Resonance dull[] = {{40, 8}, {70, 15}};
    const auto f = resolved_grid({10, 200}, {20, 119}, dull);
    const auto even = logarithmic_grid({10, 200}, 48);
    REQUIRE(f.size() == even.size() + 1);  // 20 Hz is on the even grid, 119 Hz is not
    for (const double point : even) CHECK(std::ranges::count(f, point) == 1);
    CHECK(std::ranges::count(f, 119.0) == 1);
    CHECK(std::ranges::is_sorted(f));
}

TEST_CASE("A sharp resonance is stepped through, and only where it is judged") {
    const Resonance sharp[] = {{50, 200}, {12, 200}, {190, 200}};
    const auto f = resolved_grid({10, 200}, {20, 120}, sharp);
    const double half_width = 1.0 / 400;
    CHECK(widest(f, 49.7, 50.3) < 1.5 * half_width);
    // 12 and 190 Hz are further than half an octave from the band: the even steps stay.
    CHECK(widest(f, 11.5, 12.5) == Approx(std::log(2.0) / 48));
    CHECK(widest(f, 180, 199) == Approx(std::log(2.0) / 48));
    for (const double point : logarithmic_grid({10, 200}, 48))  // more points, none moved
        CHECK(std::ranges::count(f, point) == 1);
    const auto doubled = resolved_grid({10, 200}, {20, 120}, sharp, {96, 0.65, 0.2});
    CHECK(doubled.size() > 1.8 * f.size());
    CHECK(doubled.size() < 2.2 * f.size());
}

// The Lorentzian 1/(1 + (x/w)^2) has the integral w (atan(b/w) - atan(a/w)): the trapezoidal rule
// on the resolved grid finds it within 3 % wherever the peak lies between the even points, where
// the even grid alone is off by half and more. Catches steps that grow too fast beside the peak.
TEST_CASE("A peak's area by the trapezoidal rule") {
    double worst = 0, worst_even = 0;
    for (const double q : {40.0, 90.0, 200.0, 400.0})
        for (double f0 = 50; f0 < 50.8; f0 += 0.05) {
            const Resonance one[] = {{f0, q}};
            const double w = 0.5 / q;
            const auto area = [&](const std::vector<double>& f) {
                double sum = 0;
                for (std::size_t i = 1; i < f.size(); ++i) {
                    const auto height = [&](double at) {
                        const double x = std::log(at / f0) / w;
                        return 1 / (1 + x * x);
                    };
                    sum += (height(f[i - 1]) + height(f[i])) / 2 * std::log(f[i] / f[i - 1]);
                }
                const double a = std::log(f.front() / f0), b = std::log(f.back() / f0);
                return sum / (w * (std::atan(b / w) - std::atan(a / w))) - 1;
            };
            worst = std::max(worst, std::abs(area(resolved_grid({20, 120}, {20, 120}, one))));
            worst_even = std::max(worst_even, std::abs(area(logarithmic_grid({20, 120}, 48))));
        }
    CHECK(worst < 0.03);
    CHECK(worst_even > 0.5);
}
