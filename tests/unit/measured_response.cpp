// Sweep and deconvolution against filters whose response is a formula, and noise of a known
// spectrum.
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <random>

#include "base/error.hpp"
#include "measured/response.hpp"

using namespace boxroom;

namespace {

using std::numbers::pi;

/// y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2].
struct Biquad {
    double b0, b1, b2, a1, a2;
    std::vector<double> filtered(const std::vector<double>& x) const {
        std::vector<double> y(x.size());
        for (std::size_t n = 0; n < x.size(); ++n) {
            const auto at = [n](const std::vector<double>& v, std::size_t k) {
                return n >= k ? v[n - k] : 0;
            };
            y[n] = b0 * x[n] + b1 * at(x, 1) + b2 * at(x, 2) - a1 * at(y, 1) - a2 * at(y, 2);
        }
        return y;
    }
    std::complex<double> response(double f, double rate) const {
        const auto z = std::polar(1.0, -2 * pi * f / rate);
        return (b0 + b1 * z + b2 * z * z) / (1.0 + a1 * z + a2 * z * z);
    }
};

/// A resonance at 63 Hz that rings with Q 8: the poles' radius and angle.
Biquad mode(double rate) {
    const double r = std::exp(-pi * 63 / 8 / rate), angle = 2 * pi * 63 / rate;
    return {1e-2, 0, -1e-2, -2 * r * std::cos(angle), r * r};
}

/// What the player sends, with so many seconds of silence on both sides.
std::vector<double> played(const Sweep& sweep, double rate, double before = 3, double after = 4) {
    std::vector<double> x(static_cast<std::size_t>((before + sweep.seconds + after) * rate));
    for (std::size_t i = 0; i < x.size(); ++i) x[i] = sweep(static_cast<double>(i) / rate - before);
    return x;
}

Sound sound_of(std::vector<double> samples, double rate) {
    Sound sound{std::move(samples), rate, 0, false};
    sound.seconds = static_cast<double>(sound.samples.size()) / rate;
    return sound;
}

const std::vector<double> tones{15, 20, 31.5, 50, 60, 63, 66, 80, 125, 200, 400};
constexpr double rate = 4000;

void check_refused(const Sound& sound, const std::string& words) {
    try {
        measured_response(sound, Sweep{}, tones, "a.wav");
        FAIL("nothing was refused: " + words);
    } catch (const Error& error) {
        CHECK_THAT(std::string(error.what()), Catch::Matchers::Contains(words));
    }
}

}  // namespace

TEST_CASE("The sweep passes each octave in the same time and ends where it should") {
    const Sweep sweep;
    CHECK(sweep.time_of(20) - sweep.time_of(10) == Approx(sweep.time_of(640) - sweep.time_of(320)));
    CHECK(sweep.time_of(640) == Approx(24));
    // The momentary frequency is the phase's slope; zero crossings about the middle tell it.
    const double t = sweep.time_of(80);
    int crossings = 0;
    for (int i = 0; i < 10000; ++i)
        crossings += (sweep(t - 0.1 + i * 2e-5) > 0) != (sweep(t - 0.1 + (i + 1) * 2e-5) > 0);
    CHECK(crossings == Approx(2 * 0.2 * 80).margin(1));
    CHECK(sweep(-0.01) == 0);
    CHECK(sweep(24.01) == 0);
}

TEST_CASE("A filter's response comes back in level and phase") {
    const Sweep sweep;
    const Biquad filter = mode(rate);
    const MeasuredResponse found = measured_response(
        sound_of(filter.filtered(played(sweep, rate)), rate), sweep, tones, "a.wav");
    CHECK(found.start == Approx(3).margin(0.02));
    for (std::size_t f = 0; f < tones.size(); ++f) {
        const auto truth = filter.response(tones[f], rate);
        // The start is known to a sample or so: a delay is left over, and taken out here.
        const auto turned =
            found.value[f] * std::polar(1.0, -2 * pi * tones[f] * (found.start - 3));
        INFO(tones[f]);
        CHECK(std::abs(turned / truth - 1.0) < 0.02);
        CHECK(found.trusted(f));
    }
}

TEST_CASE("Harmonics of the loudspeaker are pushed away") {
    const Sweep sweep;
    const Biquad filter = mode(rate);
    std::vector<double> x = played(sweep, rate);
    for (double& v : x) v += 0.1 * v * v + 0.1 * v * v * v;  // 5 % second, 2.5 % third
    const MeasuredResponse found =
        measured_response(sound_of(filter.filtered(x), rate), sweep, tones, "a.wav");
    for (std::size_t f = 0; f < tones.size(); ++f) {
        // v^3 adds 3/4 of itself to the first harmonic: 1.075.
        INFO(tones[f]);
        CHECK(std::abs(found.value[f]) ==
              Approx(1.075 * std::abs(filter.response(tones[f], rate))).epsilon(0.03));
    }
}

TEST_CASE("The noise that is told is the noise that is there") {
    const Sweep sweep;
    const Biquad filter = mode(rate);
    const std::vector<double> clean = filter.filtered(played(sweep, rate, 6));
    const auto quiet = measured_response(sound_of(clean, rate), sweep, tones, "a.wav");
    double told = 0, there = 0;
    std::mt19937 draw(3);
    std::normal_distribution<double> normal(0, 0.02);
    for (int i = 0; i < 8; ++i) {
        std::vector<double> noisy = clean;
        for (double& v : noisy) v += normal(draw);
        const auto found = measured_response(sound_of(noisy, rate), sweep, tones, "a.wav");
        for (std::size_t f = 0; f < tones.size(); ++f) {
            const auto turned =
                found.value[f] * std::polar(1.0, -2 * pi * tones[f] * (found.start - quiet.start));
            there += std::norm(turned - quiet.value[f]) * tones[f] * tones[f];
            told += found.noise[f] * found.noise[f] * tones[f] * tones[f];
        }
    }
    CHECK(10 * std::log10(told / there) == Approx(0).margin(1.5));
}

TEST_CASE("Recordings that tell nothing are refused in a sentence") {
    const Sweep sweep;
    const std::vector<double> x = played(sweep, rate);
    Sound sound = sound_of(x, rate);
    sound.clipped = true;
    check_refused(sound, "clipped");
    check_refused(sound_of({x.begin(), x.begin() + long(10 * rate)}, rate), "lasts 10.0 s");
    check_refused(sound_of({x.begin(), x.begin() + long(22 * rate)}, rate), "cut short");
    check_refused(sound_of({x.begin() + long(6 * rate), x.end()}, rate), "begins after");
    check_refused(sound_of(x, rate * 44.1 / 48), "another rate");
    Sweep other;
    other.seconds = 30;
    check_refused(sound_of(played(other, rate), rate), "another sweep");
    std::vector<double> noise(x.size());
    std::mt19937 draw(3);
    std::normal_distribution<double> normal;
    for (double& v : noise) v = normal(draw);
    check_refused(sound_of(noise, rate), "sweep");
    check_refused(sound_of(std::vector<double>(x.size()), rate), "sweep");
}

TEST_CASE("A WAV file comes back: thinned, in level and in time") {
    const std::filesystem::path path =
        std::filesystem::path(BOXROOM_TEST_DIR) / "measured_response_sweep.wav";
    Sweep sweep;
    {
        const std::string bytes = sweep_wav(sweep);
        CHECK(bytes.find("boxroom") < 4096);
        std::ofstream(path, std::ios::binary) << bytes;
    }
    const Sound sound = read_sound(path, 1);
    CHECK_FALSE(sound.clipped);
    CHECK(sound.rate == 4000);
    const MeasuredResponse found = measured_response(sound, sweep, tones, "sweep.wav");
    CHECK(found.start == Approx(6).margin(1e-3));
    for (std::size_t f = 0; f < tones.size(); ++f)
        CHECK(found.level_db(f) == Approx(-12).margin(0.02));
    CHECK_THROWS_AS(read_sound(path, 2), Error);
    std::filesystem::remove(path);
    CHECK_THROWS_AS(read_sound(path, 1), Error);
}
