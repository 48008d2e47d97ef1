// Modes of a room with openings: against one longer room, and against the response at real
// frequencies, which is worked out without them.
#include "solvers/open_modes.hpp"

#include <Eigen/LU>
#include <catch2/catch.hpp>
#include <cmath>

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

Space half(const Point& from, const Point& to, const std::array<Wall, 6>& walls) {
    Space space{"half", from, to, {}};
    for (int w = 0; w < 6; ++w) space.walls.push_back({wall_names[w], walls[w], ""});
    return space;
}

/// The pole of Z = (a + b w)/(w - p) through three real frequencies about a mode.
Complex pole_near(const Room& room, const Mode& mode, const Point& from, const Point& to) {
    const double width = 3 * std::log(10.0) / mode.decay_time / (2 * M_PI);
    const std::vector<double> frequency{mode.frequency - width, mode.frequency,
                                        mode.frequency + width};
    const auto z = modal_transfer(room, Air{}, frequency, {&from, 1}, {&to, 1});
    Eigen::Matrix3cd matrix;
    Eigen::Vector3cd right;
    for (int i = 0; i < 3; ++i) {
        const double w = 2 * M_PI * frequency[i];
        matrix.row(i) << 1.0, w, z.at(i, 0, 0);
        right(i) = z.at(i, 0, 0) * w;
    }
    return matrix.partialPivLu().solve(right)(2);
}

}  // namespace

TEST_CASE("Two half rooms with nothing between them have the modes of the whole") {
    const Air air;
    Room whole{5.4, 1.9, 1.5, {}, {}};
    for (int w = 0; w < 6; ++w) whole.walls[w].branches = {{9000.0 + 1000 * w, 0, 0}};
    const auto expected = room_modes(whole, air, 100);
    REQUIRE(expected.size() == 5);
    Room room{3.1, 1.9, 1.5, whole.walls, {}};
    room.plan.spaces = {half({3.1, 0, 0}, {5.4, 1.9, 1.5}, whole.walls)};
    room.plan.openings = {{"nothing between", {3.1, 0, 0}, {3.1, 1.9, 1.5}, 0}};
    const auto found = open_room_modes(room, air, 100);
    REQUIRE(found.size() == expected.size());
    for (std::size_t n = 0; n < found.size(); ++n) {
        INFO("mode " << n << " at " << expected[n].frequency << " Hz");
        CHECK(found[n].frequency == Approx(expected[n].frequency).epsilon(0.004));
        CHECK(found[n].decay_time == Approx(expected[n].decay_time).epsilon(0.03));
    }
}

TEST_CASE("Modes of a room with an open door and contents are the poles of its response") {
    const Air air;
    Room room{3.0, 4.2, 2.4, {}, {}};
    for (Wall& wall : room.walls) wall = wall_from_absorption(0.03, air);
    room.contents = constant_contents(1.5);
    Room outside = room, hall = room;
    outside.plan.openings = {{"window", {3.0, 1.0, 0.9}, {3.0, 2.0, 2.0}, -1}};
    hall.plan.spaces = {half({0, 4.3, 0}, {1.5, 7.3, 2.4}, room.walls)};
    hall.plan.openings = {{"door", {0.4, 4.2, 0}, {1.2, 4.2, 2.0}, 0}};
    for (const Room* now : {&outside, &hall}) {
        const auto modes = open_room_modes(*now, air, 90);
        INFO((now == &hall ? "hall, " : "outside, ") << modes.size() << " modes");
        CHECK(modes.size() > 6);
        CHECK(modes.front().order ==
              std::array{0, 0, 0});  // the openings' air on the room's spring
        int checked = 0;
        for (std::size_t n = 0; n < modes.size(); ++n) {
            // Only what stands free of its neighbours can be read off three frequencies.
            const double width = 1.1 / modes[n].decay_time;
            const bool alone =
                (n == 0 || modes[n].frequency - modes[n - 1].frequency > 6 * width) &&
                (n + 1 == modes.size() || modes[n + 1].frequency - modes[n].frequency > 6 * width);
            if (!alone || modes[n].cuboid != 0) continue;
            const Complex pole = pole_near(*now, modes[n], {0.05, 0.1, 0.03}, {0.1, 0.05, 2.3});
            INFO(modes[n].frequency << " Hz, " << modes[n].decay_time << " s");
            CHECK(pole.real() / (2 * M_PI) == Approx(modes[n].frequency).epsilon(0.003));
            CHECK(3 * std::log(10.0) / pole.imag() == Approx(modes[n].decay_time).epsilon(0.06));
            ++checked;
        }
        CHECK(checked >= 3);
    }
    // A shut room is the limit.
    const auto shut = room_modes(room, air, 90), same = open_room_modes(room, air, 90);
    REQUIRE(shut.size() == same.size());
    for (std::size_t n = 0; n < shut.size(); ++n) CHECK(shut[n].frequency == same[n].frequency);
}
