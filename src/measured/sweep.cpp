#include "measured/sweep.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/levels.hpp"
#include "measured/sound_file.hpp"

namespace boxroom {

using std::numbers::pi;

double Sweep::stretch() const {
    return seconds / std::log(high / low);
}

double Sweep::time_of(double frequency) const {
    return stretch() * std::log(frequency / low);
}

double Sweep::operator()(double time) const {
    if (time < 0 || time > seconds) return 0;
    const double fade = stretch() * std::numbers::ln2 * fade_octaves;
    const double edge = std::min({time / fade, (seconds - time) / fade, 1.0});
    return 0.5 * (1 - std::cos(pi * edge)) *
           std::sin(2 * pi * low * stretch() * std::expm1(time / stretch()));
}

std::string sweep_wav(const Sweep& sweep) {
    constexpr int rate = 48000;
    const double whole = sweep.silence_before + sweep.seconds + sweep.silence_after;
    const double peak = amplitude_of_db(sweep.level_dbfs);
    std::vector<double> samples(static_cast<std::size_t>(whole * rate));
    for (std::size_t i = 0; i < samples.size(); ++i)
        samples[i] = peak * sweep(static_cast<double>(i) / rate - sweep.silence_before);
    return wav_bytes(samples, rate);
}

}  // namespace boxroom
