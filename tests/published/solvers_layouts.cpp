// Where several subs stand decides which modes they drive: the textbook's symmetries. In a room of
// hard walls, at the frequency of a mode, the sum over the layout against one sub of the same total
// volume velocity in a corner, which drives every mode fully (Kuttruff, Room Acoustics, ch. 3).
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/modal.hpp"

using namespace boxroom;

namespace {

constexpr double w = 4.4, l = 5.6, h = 2.5;

/// |sum of the layout's Z|/N over |Z of a corner| at mode (nx, ny, 0), in dB.
double drive_db(int nx, int ny, const std::vector<Point>& subs) {
    Room room;
    room.width = w, room.length = l, room.height = h;
    for (Wall& wall : room.walls) wall = {{{300e3, 0, 0}}};
    const Air air;
    const double f = air.speed_of_sound / 2 * std::hypot(nx / w, ny / l);
    const std::vector<double> frequency{f};
    // Near the opposite corner every mode can be heard.
    const std::vector<Point> ear{{w - 0.02, l - 0.03, 1.1}}, corner{{0, 0, 0}};
    const auto sum = modal_transfer(room, air, frequency, subs, ear);
    const auto one = modal_transfer(room, air, frequency, corner, ear);
    std::complex<double> total = 0;
    for (std::size_t n = 0; n < subs.size(); ++n) total += sum.at(0, 0, n);
    return 20 * std::log10(std::abs(total / static_cast<double>(subs.size()) / one.at(0, 0, 0)));
}

const std::vector<Point> opposite{{0, l / 2, 0}, {w, l / 2, 0}};
const std::vector<Point> midpoints{{0, l / 2, 0}, {w, l / 2, 0}, {w / 2, 0, 0}, {w / 2, l, 0}};
const std::vector<Point> corners{{0, 0, 0}, {w, 0, 0}, {0, l, 0}, {w, l, 0}};

}  // namespace

TEST_CASE("opposite wall midpoints cancel the odd modes of their axis, and of the other") {
    CHECK(drive_db(1, 0, opposite) < -25);
    CHECK(drive_db(3, 0, opposite) < -25);
    CHECK(drive_db(0, 1, opposite) < -25);  // they stand in its node
    CHECK(drive_db(2, 0, opposite) == Approx(0).margin(0.5));
    CHECK(drive_db(0, 2, opposite) == Approx(0).margin(0.5));
}

TEST_CASE("four wall midpoints also cancel (2,0,0) and (0,2,0)") {
    for (auto [nx, ny] : {std::pair{1, 0}, {0, 1}, {2, 0}, {0, 2}, {3, 0}})
        CHECK(drive_db(nx, ny, midpoints) < -25);
    // (4,0,0) adds; at 156 Hz its neighbours are heard too.
    CHECK(drive_db(4, 0, midpoints) == Approx(0).margin(1.5));
}

TEST_CASE("four corners cancel the odd modes and add fully at (2,0,0)") {
    CHECK(drive_db(1, 0, corners) < -25);
    CHECK(drive_db(1, 1, corners) < -25);
    CHECK(drive_db(2, 0, corners) == Approx(0).margin(0.5));
    CHECK(drive_db(0, 2, corners) == Approx(0).margin(0.5));
}
