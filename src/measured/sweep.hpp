#pragma once
#include <string>
#include <vector>

namespace boxroom {

/// The one signal that is played for every recording, so that no recording depends on a file that
/// has changed since: an exponential sine sweep (Farina, AES 108th Convention, preprint 5093, 2000;
/// ISO 18233:2006, annex B),
///   x(t) = sin(2 pi f1 L (exp(t/L) - 1)),  L = T/ln(f2/f1),
/// faded in and out over half an octave by half a cosine, between two silences.
struct Sweep {
    double low = 10, high = 640;  ///< f1, f2 [Hz]: six octaves of 4 s
    double seconds = 24;          ///< T
    double fade_octaves = 0.5;    ///< at either end
    double silence_before = 6;    ///< for the noise [s]
    double silence_after = 6;     ///< for the room's decay [s]
    double level_dbfs = -12;      ///< peak, below full scale [dB]

    /// L: the n-th harmonic of the loudspeaker arrives L ln n before its tone [s].
    double stretch() const;
    /// x(t), and 0 outside 0 <= t <= T.
    double operator()(double time) const;
    /// When it passes a frequency [s].
    double time_of(double frequency) const;
};

/// The WAV file: one channel, 48 kHz, 24 bits, its maker's name inside. `level_dbfs` applied.
std::string sweep_wav(const Sweep& sweep);

}  // namespace boxroom
