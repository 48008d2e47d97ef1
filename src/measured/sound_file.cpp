#include "measured/sound_file.hpp"

#include <sndfile.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>
#include <numbers>
#include <system_error>

#include "base/error.hpp"

namespace boxroom {
namespace {

struct Closing {
    void operator()(SNDFILE* file) const { sf_close(file); }
};
using Handle = std::unique_ptr<SNDFILE, Closing>;

/// A file in memory, as libsndfile writes to it.
struct Memory {
    std::string bytes;
    std::size_t at = 0;
};
Memory& memory_of(void* user) {
    return *static_cast<Memory*>(user);
}
sf_count_t memory_length(void* user) {
    return static_cast<sf_count_t>(memory_of(user).bytes.size());
}
sf_count_t memory_seek(sf_count_t offset, int whence, void* user) {
    Memory& m = memory_of(user);
    const auto from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? m.at : m.bytes.size();
    m.at = static_cast<std::size_t>(static_cast<sf_count_t>(from) + offset);
    return static_cast<sf_count_t>(m.at);
}
sf_count_t memory_read(void* data, sf_count_t count, void* user) {
    Memory& m = memory_of(user);
    const std::size_t left = m.at < m.bytes.size() ? m.bytes.size() - m.at : 0;
    const std::size_t take = std::min(static_cast<std::size_t>(count), left);
    std::memcpy(data, m.bytes.data() + m.at, take);
    m.at += take;
    return static_cast<sf_count_t>(take);
}
sf_count_t memory_write(const void* data, sf_count_t count, void* user) {
    Memory& m = memory_of(user);
    const auto length = static_cast<std::size_t>(count);
    m.bytes.resize(std::max(m.bytes.size(), m.at + length));
    std::memcpy(m.bytes.data() + m.at, data, length);
    m.at += length;
    return count;
}
sf_count_t memory_tell(void* user) {
    return static_cast<sf_count_t>(memory_of(user).at);
}

/// Low-pass and thinning by a whole number: a sinc under Blackman's window (Oppenheim & Schafer,
/// Discrete-Time Signal Processing, sec. 7.5), which takes nothing below 700 Hz and leaves nothing
/// that would fold back there.
class Thinner {
  public:
    Thinner(int rate) : step_(std::max(1, static_cast<int>(rate / 4000.0))) {
        if (step_ == 1) {
            taps_ = {1};
            return;
        }
        const int half = 12 * step_;
        const double cut = 0.36 / step_;  // of the rate: 1440 Hz at 4 kHz
        double sum = 0;
        for (int i = -half; i <= half; ++i) {
            const double x = 2 * cut * i, angle = std::numbers::pi * i / (half + 1);
            const double sinc =
                i == 0 ? 1 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x);
            taps_.push_back(sinc * (0.42 + 0.5 * std::cos(angle) + 0.08 * std::cos(2 * angle)));
            sum += taps_.back();
        }
        for (double& tap : taps_) tap /= sum;
        held_.assign(static_cast<std::size_t>(half), 0.0);  // so that the output is not late
    }

    void take(const std::vector<double>& samples, std::vector<double>& out) {
        held_.insert(held_.end(), samples.begin(), samples.end());
        std::size_t at = 0;
        for (; at + taps_.size() <= held_.size(); at += static_cast<std::size_t>(step_)) {
            double sum = 0;
            for (std::size_t i = 0; i < taps_.size(); ++i) sum += taps_[i] * held_[at + i];
            out.push_back(sum);
        }
        held_.erase(held_.begin(), held_.begin() + static_cast<long>(std::min(at, held_.size())));
    }
    /// The last outputs, as if silence followed.
    void finish(std::vector<double>& out) { take(std::vector<double>(taps_.size() / 2, 0.0), out); }
    int step() const { return step_; }

  private:
    int step_;
    std::vector<double> taps_, held_;
};

/// Watches for tops that are cut off.
class ClipWatch {
  public:
    explicit ClipWatch(bool floating) : floating_(floating) {}
    void see(double x) {
        const double size = std::abs(x);
        const bool same = floating_ ? x == last_ && size >= top_ && size > 0.5 : size >= full_scale;
        run_ = same ? run_ + 1 : (floating_ ? 1 : 0);
        top_ = std::max(top_, size);
        last_ = x;
        // A float file may go beyond 1; one that stays just at its own largest value was cut there.
        if (floating_ ? run_ >= 4 && size >= top_ : run_ >= 2) at_ = size, clipped_ = true;
    }
    bool clipped() const { return clipped_ && (!floating_ || at_ >= top_); }

  private:
    static constexpr double full_scale = 1 - 1.5 / 32768;
    bool floating_, clipped_ = false;
    double top_ = 0, last_ = 2, at_ = 0;
    int run_ = 0;
};

void require_file(const std::filesystem::path& path) {
    std::error_code trouble;
    const auto kind = std::filesystem::status(path, trouble).type();
    if (kind == std::filesystem::file_type::directory)
        throw Error(path.string(), "this is a folder, not a recording", "name the file in it");
    if (!std::filesystem::exists(path, trouble))
        throw Error(path.string(), "the recording is missing", "check the name");
    if (kind != std::filesystem::file_type::regular)
        throw Error(path.string(), "this is a device or a pipe, not a recording",
                    "save the recording to a file");
    if (std::filesystem::file_size(path, trouble) == 0)
        throw Error(path.string(), "the recording is empty: 0 bytes", "record it again");
}

void require_usable(const std::string& name, const SF_INFO& info, int channel) {
    if (info.samplerate < 2000 || info.samplerate > 1'000'000)
        throw Error(name, "the rate of " + std::to_string(info.samplerate) + " Hz is of no use",
                    "record at 44.1 or 48 kHz");
    if (channel < 1 || channel > info.channels)
        throw Error(name,
                    "there is no channel " + std::to_string(channel) + ": the recording has " +
                        std::to_string(info.channels),
                    "write channel = 1, say");
    if (static_cast<double>(info.frames) > longest_recording * info.samplerate)
        throw Error(name, "the recording is longer than ten minutes",
                    "cut it to one sweep with its silence");
}

}  // namespace

std::string wav_bytes(const std::vector<double>& samples, int rate) {
    Memory memory;
    SF_VIRTUAL_IO calls{memory_length, memory_seek, memory_read, memory_write, memory_tell};
    SF_INFO info{};
    info.samplerate = rate, info.channels = 1, info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    Handle file(sf_open_virtual(&calls, SFM_WRITE, &info, &memory));
    if (!file) throw NumericalFailure("the sound library could not write a WAV file");
    sf_set_string(file.get(), SF_STR_SOFTWARE, "boxroom");
    const auto count = static_cast<sf_count_t>(samples.size());
    if (sf_write_double(file.get(), samples.data(), count) != count)
        throw NumericalFailure("the sound library could not write a WAV file");
    file.reset();
    return std::move(memory.bytes);
}

Sound read_sound(const std::filesystem::path& path, int channel) {
    require_file(path);
    SF_INFO info{};
    const Handle file(sf_open(path.c_str(), SFM_READ, &info));
    if (!file)
        throw Error(path.string(), "this is no sound that can be read", "save it as a WAV file");
    require_usable(path.string(), info, channel);
    const int subtype = info.format & SF_FORMAT_SUBMASK;
    ClipWatch watch(subtype == SF_FORMAT_FLOAT || subtype == SF_FORMAT_DOUBLE);
    Thinner thinner(info.samplerate);
    Sound sound;
    constexpr sf_count_t piece = 1 << 14;
    const auto wide = static_cast<std::size_t>(info.channels);
    std::vector<double> frames(static_cast<std::size_t>(piece) * wide), one;
    std::size_t all = 0;
    bool finite = true;
    for (sf_count_t got; (got = sf_readf_double(file.get(), frames.data(), piece)) > 0;) {
        one.resize(static_cast<std::size_t>(got));
        for (std::size_t i = 0; i < one.size(); ++i) {
            one[i] = frames[i * wide + static_cast<std::size_t>(channel) - 1];
            finite = finite && std::isfinite(one[i]) && std::abs(one[i]) < 1e12;
            watch.see(one[i]);
        }
        all += one.size();
        if (!finite || static_cast<double>(all) > longest_recording * info.samplerate) break;
        thinner.take(one, sound.samples);
    }
    if (!finite)
        throw Error(path.string(), "the recording holds values that are no numbers",
                    "save it again");
    thinner.finish(sound.samples);
    sound.rate = static_cast<double>(info.samplerate) / thinner.step();
    sound.seconds = static_cast<double>(all) / info.samplerate;
    sound.clipped = watch.clipped();
    if (sound.seconds < 1)
        throw Error(path.string(), "the recording holds less than a second of sound",
                    "record the whole sweep");
    return sound;
}

}  // namespace boxroom
