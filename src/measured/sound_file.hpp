#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace boxroom {

/// Bytes of a WAV file of one channel and 24 bits; samples from -1 to 1.
std::string wav_bytes(const std::vector<double>& samples, int rate);

/// A recording, low-passed and thinned to about 4 kHz: more than any frequency that is asked for.
struct Sound {
    std::vector<double> samples;  ///< full scale is 1
    double rate = 0;              ///< [Hz], after thinning
    double seconds = 0;
    bool clipped = false;
};

/// Highest frequency [Hz] that `Sound` keeps within 0.05 dB.
inline constexpr double sound_reach = 700;
inline constexpr double longest_recording = 600;  ///< [s]

/// Reads one channel (from 1) of any format that libsndfile knows: WAV, FLAC, AIFF, of any depth
/// and of rates from 2 kHz to 1 MHz. Reads in pieces: memory grows with the time that is recorded
/// alone. Clipped: neighbours that stand at full scale, or three alike at the top of a float file.
/// Throws Error for what is no sound, too short, too long, or has no such channel.
Sound read_sound(const std::filesystem::path& path, int channel);

}  // namespace boxroom
