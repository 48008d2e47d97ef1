#pragma once
#include <complex>
#include <span>
#include <string>
#include <vector>

#include "measured/sound_file.hpp"
#include "measured/sweep.hpp"

namespace boxroom {

/// What a recording of the sweep says of the way from the player to the microphone.
struct MeasuredResponse {
    std::vector<double> frequency;            ///< (F) [Hz]
    std::vector<std::complex<double>> value;  ///< (F) recorded over played, full scale each
    std::vector<double> noise;  ///< (F) RMS of what noise adds to `value`; NaN: no silence recorded
    double start = 0;           ///< when the sweep is heard in the recording [s]
    std::vector<std::string> notes;

    /// 20 lg |value| [dB].
    double level_db(std::size_t f) const;
    /// One standard deviation of the level that noise makes [dB].
    double doubt_db(std::size_t f) const;
    /// At least 10 dB above the noise, and within the sweep.
    bool trusted(std::size_t f) const;
    double lowest = 0, highest = 0;  ///< what the sweep excites [Hz]
};

/// The recording's spectrum over the sweep's gives the impulse response (Farina 2000; ISO 18233
/// annex B); the sweep's own start aligns it. The loudspeaker's harmonics come L ln n before (4 s
/// for the second) and are cut off by a window from 0.35 s before to 3.5 s after the start, which
/// shortens decays of more than about 4 s. Noise: the spectrum of the silence before the sweep
/// (else after it) through the same division and window. Throws Error for a recording that is
/// clipped, cut short, begun late, of another sweep, played at another rate, or drowned in noise;
/// `name` heads the sentence.
MeasuredResponse measured_response(const Sound& sound, const Sweep& sweep,
                                   std::span<const double> frequency, const std::string& name);

}  // namespace boxroom
