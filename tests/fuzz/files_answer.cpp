// What the child that reads an HDF5 file says (files/hdf5_pieces.hpp), which libhdf5 may have run
// astray: a listening whose tables go together, or an Error. Here and not in files_results, where
// every input takes a process.
#include <cmath>
#include <stdexcept>

#include "base/error.hpp"
#include "files/results_reader.hpp"
#include "harness.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    try {
        const Listening heard =
            listening_of(unpacked_pieces(fuzz::bytes(data, size), "listen.h5"), "listen.h5");
        const std::size_t f = heard.frequency.size(), s = heard.seats.size();
        if (heard.level_db.frequencies() != f || heard.level_db.rows() != s)
            throw std::logic_error("tables of unlike length");
        for (std::size_t i = 0; i < f; ++i)
            for (const double level : heard.level_db.at(i))
                if (!std::isfinite(level)) throw std::logic_error("a level that is no number");
    } catch (const Error&) {
    }
    return 0;
}
