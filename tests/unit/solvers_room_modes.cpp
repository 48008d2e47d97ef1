// Free oscillations against the equation that defines them.
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/modal.hpp"
#include "solvers/modal_parts.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

TEST_CASE("Every mode of a room solves w^2 = c^2 sum q^2(w)") {
    const Air air;
    Room masonry{4.1, 5.2, 2.45, {}, {}}, timber = masonry;
    for (Wall& wall : masonry.walls) wall = Wall{{{20000, 0, 0}}};
    masonry.walls[4] = Wall{{{2500, 0, 0}}};
    for (Wall& wall : timber.walls) wall = Wall{{{5300, 7.8, 1.594e6}}};
    timber.walls[5] = Wall{{{9300, 9, 7.09e5}}};
    timber.walls[2] = Wall{{{900, 11, 1.8e6}}};  // resonates at 64 Hz with a Q of 5
    for (const Room& room : {masonry, timber}) {
        int looked_at = 0;
        for (const Mode& mode : room_modes(room, air, 160)) {
            if (mode.decay_time < 0.1) continue;  // first order is all that is said of these
            const Complex omega{2 * M_PI * mode.frequency, 3 * std::log(10.0) / mode.decay_time};
            const auto axis = modal_parts::axis_problems_at(room, air, omega);
            Complex sum = 0;
            for (int a = 0; a < 3; ++a)
                sum += axis_eigenvalues(axis[a], mode.order[a] + 1)[mode.order[a]];
            INFO(mode.order[0] << mode.order[1] << mode.order[2] << " at " << mode.frequency);
            CHECK(std::abs(air.speed_of_sound * std::sqrt(sum) / omega - 1.0) < 1e-6);
            ++looked_at;
        }
        CHECK(looked_at > 30);
    }
}
