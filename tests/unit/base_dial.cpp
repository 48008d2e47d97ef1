// Gain, delay and polarity as one factor, and levels. Derivations by hand, exp(+jwt):
//   half a pressure is 20 log10(1/2) = -6.0206 dB; 2.5 ms are a quarter of a period of 100 Hz, so a
//   delayed source lags by 90 degrees: factor -j. Catches a sign of the delay, a gain taken as a
//   power, a lost polarity.
#include "base/dial.hpp"

#include <catch2/catch.hpp>

using namespace boxroom;

TEST_CASE("A dial multiplies by gain, lag and polarity") {
    const std::complex<double> neutral = Dial{}.factor(73);
    CHECK(neutral.real() == 1);
    CHECK(neutral.imag() == 0);
    const std::complex<double> half = Dial{-6.0206, 0, 1}.factor(40);
    CHECK(half.real() == Approx(0.5).epsilon(1e-5));
    const std::complex<double> late = Dial{0, 2.5e-3, 1}.factor(100);
    CHECK(late.real() == Approx(0).margin(1e-12));
    CHECK(late.imag() == Approx(-1));
    const std::complex<double> turned = Dial{6.0206, 2.5e-3, -1}.factor(100);
    CHECK(turned.real() == Approx(0).margin(1e-12));
    CHECK(turned.imag() == Approx(2).epsilon(1e-5));
    CHECK(Dial{6.0206, 2.5e-3, -1}.gain() == Approx(2).epsilon(1e-5));
    // Many at once are the same.
    const double frequencies[] = {100, 200};
    const auto both = Dial{6.0206, 2.5e-3, -1}.factors(frequencies);
    REQUIRE(both.size() == 2);
    CHECK(std::abs(both[0] - turned) < 1e-12);
    CHECK(both[1].real() == Approx(2).epsilon(1e-5));
}

// 1 Pa RMS is 20 log10(1/20e-6) = 93.979 dB (ISO 1683's reference).
TEST_CASE("Levels count from 20 micropascal") {
    CHECK(level_db(1) == Approx(93.979).margin(0.001));
    CHECK(level_db(reference_pressure * reference_pressure) == Approx(0).margin(1e-9));
    CHECK(level_db(0) == Approx(-300));
    CHECK(mean_square_of_level(93.979) == Approx(1).epsilon(1e-3));
    CHECK(db_of_amplitude(amplitude_of_db(-7)) == Approx(-7));
    CHECK(power_of_db(10) == Approx(10));
}
