#include "measured/response.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <kissfft/kissfft.hh>
#include <limits>
#include <numbers>
#include <optional>

#include "base/error.hpp"
#include "base/levels.hpp"
#include "base/number.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
using Spectrum = std::vector<Complex>;
using std::numbers::pi;

constexpr double window_before = 0.35, rise = 0.25, window_after = 3.5, fall = 1.0;  // [s]

std::size_t power_of_two(std::size_t least) {
    std::size_t n = 1;
    while (n < least) n *= 2;
    return n;
}

Spectrum transformed(const Spectrum& in, bool inverse) {
    Spectrum out(in.size());
    kissfft<double> transform(in.size(), inverse);
    transform.transform(in.data(), out.data());
    if (inverse)
        for (Complex& value : out) value /= static_cast<double>(in.size());
    return out;
}

std::vector<double> sampled(const Sweep& sweep, double rate) {
    std::vector<double> x(static_cast<std::size_t>(sweep.seconds * rate) + 1);
    for (std::size_t i = 0; i < x.size(); ++i) x[i] = sweep(static_cast<double>(i) / rate);
    return x;
}

/// One term of a Fourier sum; the turning factor is set anew now and then, so that it does not
/// drift.
Complex fourier(std::span<const double> x, double frequency, double rate) {
    Complex sum = 0;
    constexpr std::size_t stretch = 256;
    const Complex step = std::polar(1.0, -2 * pi * frequency / rate);
    for (std::size_t start = 0; start < x.size(); start += stretch) {
        Complex turn = std::polar(1.0, -2 * pi * frequency / rate * static_cast<double>(start)),
                part = 0;
        const std::size_t end = std::min(start + stretch, x.size());
        for (std::size_t i = start; i < end; ++i, turn *= step) part += x[i] * turn;
        sum += part;
    }
    return sum;
}

double raised(double share) {
    return 0.5 * (1 - std::cos(pi * std::clamp(share, 0.0, 1.0)));
}

/// The spectrum of the impulse response, between the sweep's ends and nothing beyond.
Spectrum ratio(const Sound& sound, const std::vector<double>& x, const Sweep& sweep,
               std::size_t n) {
    Spectrum played(n), heard(n);
    std::copy(x.begin(), x.end(), played.begin());
    std::copy(sound.samples.begin(), sound.samples.end(), heard.begin());
    played = transformed(played, false), heard = transformed(heard, false);
    double top = 0;
    for (const Complex& value : played) top = std::max(top, std::norm(value));
    for (std::size_t i = 0; i < n; ++i) {
        const double bin = static_cast<double>(std::min(i, n - i));
        const double f = bin * sound.rate / static_cast<double>(n);
        const double inside =
            raised((f / sweep.low - 0.8) / 0.25) * raised((1.12 - f / sweep.high) / 0.12);
        heard[i] = inside > 0 ? heard[i] * std::conj(played[i]) * inside /
                                    (std::norm(played[i]) + 1e-7 * top)
                              : 0;
    }
    return heard;
}

/// Of each moment, the energy that follows within the window; the sharpest rise is not needed, only
/// where the response lies.
std::size_t loudest(const Spectrum& g) {
    std::size_t best = 0;
    for (std::size_t i = 0; i < g.size(); ++i)
        if (std::norm(g[i]) > std::norm(g[best])) best = i;
    return best;
}

/// Where an octave of the response lies [s], or nothing where noise hides it.
std::optional<double> arrival(const Spectrum& whole, double centre, double rate) {
    Spectrum part(whole.size());
    const double n = static_cast<double>(whole.size());
    for (std::size_t i = 1; i < whole.size() / 2; ++i) {  // one side: the envelope comes out
        const double octaves = std::log2(static_cast<double>(i) * rate / n / centre);
        if (std::abs(octaves) < 0.75) part[i] = whole[i] * raised((0.75 - std::abs(octaves)) / 0.5);
    }
    part = transformed(part, true);
    double all = 0;
    for (const Complex& value : part) all += std::norm(value);
    const std::size_t peak = loudest(part);
    if (!(std::norm(part[peak]) > 60 * all / n)) return std::nullopt;  // silence, too
    const double time = static_cast<double>(peak) / rate;
    return time > n / rate / 2 ? time - n / rate : time;
}

/// A sweep of another rate or length leaves the octaves apart in time.
void require_same_sweep(const Spectrum& whole, double rate, const std::string& name) {
    std::vector<double> times;
    for (const double centre : {20.0, 40.0, 80.0, 160.0, 320.0})
        if (const auto time = arrival(whole, centre, rate)) times.push_back(*time);
    if (times.size() < 2)
        throw Error(name, "the sweep cannot be made out in this recording",
                    "record sweep.wav, louder or with less noise around");
    const auto [first, last] = std::minmax_element(times.begin(), times.end());
    if (*last - *first > 0.6)
        throw Error(name,
                    "the tones lie " + number(*last - *first, 1) +
                        " s apart: another sweep, or played at another rate",
                    "play sweep.wav itself, at its own 48 kHz");
}

/// The response from before its loudest moment to when it has died away, and the window's own
/// square.
struct Windowed {
    std::vector<double> g;
    double before = 0;  ///< of the loudest moment within `g` [s]
    double square = 0;  ///< sum of the window's squares
};

Windowed windowed(const Spectrum& g, std::size_t peak, double rate) {
    Windowed out;
    const auto before = static_cast<std::size_t>(window_before * rate);
    const auto count = before + static_cast<std::size_t>(window_after * rate);
    out.before = static_cast<double>(before) / rate;
    out.g.resize(std::min(count, g.size()));
    for (std::size_t i = 0; i < out.g.size(); ++i) {
        const double t = static_cast<double>(i) / rate;
        const double w = raised(t / rise) * raised((window_before + window_after - t) / fall);
        out.g[i] = w * g[(peak + g.size() - before + i) % g.size()].real();
        out.square += w * w;
    }
    return out;
}

/// Power of a stretch of noise at a frequency, a sample: the mean over overlapping seconds under
/// Hann's window (Welch, IEEE Trans. AU-15, 1967). NaN where there is less than a second.
double noise_power(std::span<const double> noise, double frequency, double rate) {
    const auto length = static_cast<std::size_t>(rate);
    if (noise.size() < length) return std::numeric_limits<double>::quiet_NaN();
    std::vector<double> part(length);
    double sum = 0;
    int count = 0;
    for (std::size_t start = 0; start + length <= noise.size(); start += length / 2, ++count) {
        double square = 0;
        for (std::size_t i = 0; i < length; ++i) {
            const double w = raised(2 * std::min(i, length - i) / static_cast<double>(length));
            part[i] = w * noise[start + i];
            square += w * w;
        }
        sum += std::norm(fourier(part, frequency, rate)) / square;
    }
    return sum / count;
}

/// The silence before the sweep; where there is none, the one after the room has died away.
std::span<const double> silence(const Sound& sound, const Sweep& sweep, double start) {
    const auto at = [&](double time) {
        return static_cast<std::size_t>(
            std::clamp(time * sound.rate, 0.0, static_cast<double>(sound.samples.size())));
    };
    const std::span<const double> all(sound.samples);
    const auto before = all.subspan(at(0.1), std::max(at(start - 0.4), at(0.1)) - at(0.1));
    if (static_cast<double>(before.size()) > sound.rate) return before;
    const std::size_t after = at(start + sweep.seconds + 4);
    return all.subspan(after, all.size() - after);
}

void require_whole(double start, const Sound& sound, const Sweep& sweep, const std::string& name) {
    if (start < -0.05)
        throw Error(name, "the recording begins after the sweep had begun",
                    "start recording before you start to play");
    if (start + sweep.seconds > sound.seconds + 0.05)
        throw Error(name,
                    "the recording is cut short: the sweep runs until " +
                        number(start + sweep.seconds, 1) + " s and the recording ends at " +
                        number(sound.seconds, 1) + " s",
                    "record until some seconds after the last tone");
}

}  // namespace

double MeasuredResponse::level_db(std::size_t f) const {
    return db_of_amplitude(std::max(std::abs(value[f]), 1e-15));
}

double MeasuredResponse::doubt_db(std::size_t f) const {
    return 20 / std::numbers::ln10 * noise[f] / std::sqrt(2.0) /
           std::max(std::abs(value[f]), 1e-15);
}

bool MeasuredResponse::trusted(std::size_t f) const {
    const bool heard = std::isnan(noise[f]) || std::norm(value[f]) >= 10 * noise[f] * noise[f];
    return heard && frequency[f] >= lowest && frequency[f] <= highest;
}

MeasuredResponse measured_response(const Sound& sound, const Sweep& sweep,
                                   std::span<const double> frequency, const std::string& name) {
    if (sound.clipped)
        throw Error(name, "the recording is clipped: its tops are cut off",
                    "turn the microphone's gain down and record again");
    if (sound.seconds < 0.8 * sweep.seconds)
        throw Error(name,
                    "the recording lasts " + number(sound.seconds, 1) + " s, the sweep alone " +
                        number(sweep.seconds, 0) + " s",
                    "record the whole of sweep.wav");
    const std::vector<double> x = sampled(sweep, sound.rate);
    const std::size_t n = power_of_two(sound.samples.size() + x.size());
    const Spectrum whole = ratio(sound, x, sweep, n);
    require_same_sweep(whole, sound.rate, name);
    const Spectrum g = transformed(whole, true);
    const std::size_t peak = loudest(g);
    double start = static_cast<double>(peak) / sound.rate;
    if (peak > n / 2 + sound.samples.size() / 2) start -= static_cast<double>(n) / sound.rate;
    require_whole(start, sound, sweep, name);

    MeasuredResponse out;
    out.start = start;
    out.lowest = 1.2 * sweep.low, out.highest = 0.9 * sweep.high;
    const Windowed response = windowed(g, peak, sound.rate);
    const auto quiet = silence(sound, sweep, start);
    for (const double f : frequency) {
        out.frequency.push_back(f);
        out.value.push_back(fourier(response.g, f, sound.rate) *
                            std::polar(1.0, 2 * pi * f * response.before));
        const double played = std::norm(fourier(x, f, sound.rate));
        out.noise.push_back(std::sqrt(noise_power(quiet, f, sound.rate) * response.square /
                                      std::max(played, 1e-9)));
    }
    if (static_cast<double>(quiet.size()) < sound.rate)
        out.notes.push_back(name + ": no second of silence was recorded, so the noise is unknown");
    return out;
}

}  // namespace boxroom
