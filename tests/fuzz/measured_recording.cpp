// A recording: read or refused; samples are numbers, and no more of them than the file can hold.
#include <cmath>
#include <stdexcept>

#include "base/error.hpp"
#include "file_in_memory.hpp"
#include "harness.hpp"
#include "measured/sound_file.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    const fuzz::FileInMemory file(fuzz::bytes(data, size));
    try {
        const Sound sound = read_sound(file.path(), 1);
        if (!(sound.rate > 0) || !(sound.seconds > 0) || sound.seconds > longest_recording)
            throw std::logic_error("a recording without a length");
        for (const double sample : sound.samples)
            if (!std::isfinite(sample)) throw std::logic_error("a sample that is no number");
    } catch (const Error&) {
    }
    return 0;
}
