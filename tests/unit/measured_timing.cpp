// Where a recording lies in time, against systems whose delay and sign are known.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "base/frequency_grid.hpp"
#include "base/levels.hpp"
#include "measured/recording_timing.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

const std::vector<double> frequency = logarithmic_grid({20, 120}, 48);
const std::vector<double> weight(frequency.size(), 1.0);

/// A few resonances of a room, as a sum of second-order systems: textbook modes.
Complex response(double f, double off) {
    const double w = 2 * std::numbers::pi * f;
    Complex sum = 0;
    int n = 0;
    for (const double mode : {34.0, 43.0, 55.0, 68.0, 81.0, 97.0}) {
        const double at = 2 * std::numbers::pi * mode * (1 + off * ((n % 3) - 1));
        sum += (n++ % 2 ? -1.0 : 1.0) * w * w / (Complex(at * at - w * w, w * at / 12));
    }
    return sum;
}

/// The curve of the room `off` the predicted one, `delay` [s] later, times `factor`.
HeardCurve heard(double off, double delay, double factor) {
    HeardCurve curve;
    curve.frequency = frequency;
    for (const double f : frequency) {
        const Complex m =
            factor * response(f, off) * std::polar(1.0, -2 * std::numbers::pi * f * delay);
        curve.level_db.push_back(db_of_amplitude(std::abs(m)));
        curve.phase.push_back(std::arg(m));
        curve.trusted.push_back(1);
    }
    return curve;
}

std::vector<Complex> predicted_pressure() {
    std::vector<Complex> all;
    for (const double f : frequency) all.push_back(response(f, 0));
    return all;
}

}  // namespace

TEST_CASE("Delay and sign of a recording are found, of a room that is a little off too") {
    const std::vector<Complex> predicted = predicted_pressure();
    for (const double off : {0.0, 0.01})
        for (const double delay : {-0.012, 0.0, 0.0071, 0.06})
            for (const double factor : {0.3, -2.0}) {
                INFO(off << " " << delay << " " << factor);
                const auto found = recording_timing(heard(off, delay, factor), predicted, weight);
                REQUIRE(found);
                CHECK(found->delay_s == Approx(delay).margin(off > 0 ? 1e-3 : 2e-5));
                CHECK(found->inverted == (factor < 0));
                CHECK(found->alike <= 1 + 1e-6);
                CHECK(found->alike > (off > 0 ? 0.7 : 0.999));
            }
}

TEST_CASE("A delay that was taken out of the phase is told with the rest") {
    const std::vector<Complex> predicted = predicted_pressure();
    HeardCurve curve = heard(0, -0.055, 1);  // the loudest comes later than the first
    curve.start_s = 0.66;
    const auto found = recording_timing(curve, predicted, weight);
    REQUIRE(found);
    CHECK(found->delay_s == Approx(0.605).margin(2e-5));
}

TEST_CASE("Where phase tells nothing, no delay is found") {
    const std::vector<Complex> predicted = predicted_pressure();
    HeardCurve curve = heard(0, 0.004, 1);
    std::mt19937 random(5);
    std::uniform_real_distribution<double> any(-std::numbers::pi, std::numbers::pi);
    for (double& phase : curve.phase) phase = any(random);
    CHECK_FALSE(recording_timing(curve, predicted, weight));
    curve.phase.clear();
    CHECK_FALSE(recording_timing(curve, predicted, weight));

    HeardCurve none = heard(0, 0.004, 1);
    none.trusted.assign(frequency.size(), 0);
    CHECK_FALSE(recording_timing(none, predicted, weight));
    CHECK_THROWS_AS(recording_timing(heard(0, 0, 1), std::span(predicted).first(3), weight),
                    std::length_error);
}
