// A results file (HDF5). As it is, the seal stops every change before libhdf5 sees it; with
// BOXROOM_FUZZ_RESEAL in the environment each input is sealed anew, as somebody would who wants to
// do harm.
#include <cmath>
#include <cstdlib>
#include <stdexcept>
#include <string>

#include "base/error.hpp"
#include "file_in_memory.hpp"
#include "files/hdf5_seal.hpp"
#include "files/results_file.hpp"
#include "harness.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    std::string bytes(fuzz::bytes(data, size));
    if (std::getenv("BOXROOM_FUZZ_RESEAL") && bytes.size() > seal_size)
        bytes = sealed_hdf5(std::move(bytes));
    const fuzz::FileInMemory file(bytes);
    try {
        read_input_text(file.path());
    } catch (const Error&) {
    }
    try {
        const Listening heard = read_listening(file.path());
        for (const double level : heard.seat_average_db)
            if (!std::isfinite(level)) throw std::logic_error("a level that is no number");
    } catch (const Error&) {
    }
    return 0;
}
