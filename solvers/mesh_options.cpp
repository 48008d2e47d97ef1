#include "solvers/mesh_options.hpp"

#include <algorithm>

#include "base/error.hpp"

namespace boxroom {

MeshOptions mesh_for(double highest_frequency) {
    if (highest_frequency > highest_by_elements)
        throw Error("room solver", "the band reaches above 320 Hz, too high for elements",
                    "lower [analysis] band, or use --solver grid");
    MeshOptions options;
    // Elements of degree 5 as long as half a wave and more are good to 0.1 dB: in the upper third
    // of the band that will do.
    options.highest_frequency = std::max(0.75 * highest_frequency, 150.0);
    // Against independent finite elements, 15 to 150 Hz: 0.03 dB RMS and 0.2 at worst without a
    // door, 0.05 and 0.4 with one.
    options.longest = 1.5;
    return options;
}

}  // namespace boxroom
