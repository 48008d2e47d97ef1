// Mode frequencies of hard rooms and limits of the exact solution.
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/modal.hpp"

using namespace boxroom;

namespace {
Room hard_room(double x, double y, double z, double resistance = 1e8) {
    Room room{x, y, z, {}, {}};
    for (Wall& wall : room.walls) wall.branches = {{resistance, 0, 0}};
    return room;
}
}  // namespace

TEST_CASE("Axial modes of 16 x 12 x 8 ft (Handbook for Sound Engineers, Table 6-4)") {
    Air air;
    air.speed_of_sound = 1130 * 0.3048;
    const auto modes = room_modes(hard_room(16 * 0.3048, 12 * 0.3048, 8 * 0.3048), air, 145);
    const std::pair<std::array<int, 3>, double> table[] = {
        {{1, 0, 0}, 35.31}, {{2, 0, 0}, 70.63},  {{3, 0, 0}, 105.94}, {{0, 1, 0}, 47.08},
        {{0, 2, 0}, 94.17}, {{0, 3, 0}, 141.25}, {{0, 0, 1}, 70.63},  {{0, 0, 2}, 141.25}};
    for (const auto& [order, frequency] : table) {
        bool found = false;
        for (const Mode& mode : modes)
            if (mode.order == order) {
                found = true;
                CHECK(mode.frequency == Approx(frequency).margin(0.006));
            }
        CHECK(found);
    }
}

TEST_CASE("4.7 x 4.1 x 3.1 m at 340 m/s (Kuttruff, Room Acoustics, Table 3.1, from memory)") {
    Air air;
    air.speed_of_sound = 340;
    const auto modes = room_modes(hard_room(4.7, 4.1, 3.1), air, 116.3);
    const double first[] = {36.17, 41.46, 54.84, 55.02, 65.69, 68.75, 72.34, 77.68};
    for (int n = 0; n < 8; ++n) CHECK(modes[n].frequency == Approx(first[n]).margin(0.01));
    CHECK(modes.size() == 20);
}

TEST_CASE("Oblique modes decay as Sabine's formula with alpha = 8 beta (small beta)") {
    const Air air;
    const double beta = 0.002;
    const Room room = hard_room(4.1, 5.2, 2.45, air.impedance() / beta);
    const double surface = 2 * (4.1 * 5.2 + 4.1 * 2.45 + 5.2 * 2.45);
    const double sabine = 24 * std::log(10.0) * room.volume() / (343.2 * 8 * beta * surface);
    for (const Mode& mode : room_modes(room, air, 200))
        if (mode.order[0] && mode.order[1] && mode.order[2])
            CHECK(mode.decay_time == Approx(sabine).epsilon(0.01));
}

TEST_CASE("A sealed room at a very low frequency is a spring: p = rho c^2 U/(j w V)") {
    const Air air;
    const Room room = hard_room(4.1, 5.2, 2.45, 1e9);
    const std::vector<double> frequency{0.5};
    const std::vector<Point> from{{0.4, 0.3, 0.2}}, to{{2, 3.5, 1.1}};
    const auto z = modal_transfer(room, air, frequency, from, to).at(0, 0, 0);
    const auto spring = air.density * air.speed_of_sound * air.speed_of_sound /
                        (std::complex<double>{0, 2 * M_PI * 0.5} * room.volume());
    CHECK(std::abs(z / spring - 1.0) < 2e-3);
}

TEST_CASE("Far from all walls the field is that of a point in free space, rho f/(2 r)") {
    const Air air;
    const Room room = hard_room(30, 31, 29, air.impedance());
    const std::vector<double> frequency{100};
    const std::vector<Point> from{{15, 15, 14}}, to{{15, 15, 14.25}};
    const auto z = modal_transfer(room, air, frequency, from, to).at(0, 0, 0);
    const double free_field = air.density * 100 / (2 * 0.25);  // rho f/(2 r)
    CHECK(20 * std::log10(std::abs(z) / free_field) == Approx(0).margin(0.3));
}

TEST_CASE("Opposite wall midpoints cancel the odd modes of their axis") {
    const Air air;
    Room room = hard_room(5, 4, 2.1, 20000);
    const double first = 343.2 / 2 / 5;  // (1,0,0)
    const std::vector<double> frequency{first};
    const std::vector<Point> from{
        {0.01, 2, 1.05}, {4.99, 2, 1.05}, {2.5, 0.01, 1.05}, {2.5, 3.99, 1.05}};
    const std::vector<Point> to{{4.2, 3.1, 1.1}};
    const auto z = modal_transfer(room, air, frequency, from, to);
    CHECK(std::abs(z.at(0, 0, 0) + z.at(0, 0, 1)) < 0.15 * std::abs(z.at(0, 0, 0)));
    // (The subs stand at half height, off the vertical mode.) Four wall midpoints also cancel
    // (2,0,0).
    const std::vector<double> second{2 * first};
    const auto y = modal_transfer(room, air, second, from, to);
    const auto four = y.at(0, 0, 0) + y.at(0, 0, 1) + y.at(0, 0, 2) + y.at(0, 0, 3);
    CHECK(std::abs(four) < 0.25 * std::abs(y.at(0, 0, 0) + y.at(0, 0, 1)));
}

TEST_CASE("Source and receiver swapped, many against few, near and far") {
    const Air air;
    Room room = hard_room(4.1, 5.2, 2.45, 3000);
    room.walls[2].branches = {{2200, 11, 1.8e6}};
    room.walls[5].branches = {{500, 2, 1e5}};
    const std::vector<double> frequency{12, 31.5, 63, 71, 125, 200};
    const std::vector<Point> a{{0.35, 0.4, 0.22}, {3.8, 0.4, 0.22}, {1, 4.9, 0.3}},
        b{{2, 3.5, 1.1}, {1, 3, 1.2}};
    const auto ab = modal_transfer(room, air, frequency, a, b);
    const auto ba = modal_transfer(room, air, frequency, b, a);
    const auto many = modal_transfer_many(room, air, frequency, a, b);
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (int s = 0; s < 3; ++s)
            for (int r = 0; r < 2; ++r) {
                CHECK(std::abs(ab.at(f, r, s) / ba.at(f, s, r) - 1.0) < 1e-9);
                CHECK(std::abs(std::complex<double>(many.at(f, r, s)) / ab.at(f, r, s) - 1.0) <
                      1e-3);
            }
}
