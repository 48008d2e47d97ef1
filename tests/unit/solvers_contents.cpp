// Contents of a room: resistance to the air's motion, against formulas written out here.
#include "solvers/contents.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"
#include "solvers/modal.hpp"
#include "solvers/plausible_decay.hpp"
#include "solvers/prepared_room.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

constexpr Complex j{0, 1};

Room walls_of(double resistance) {
    Room room{4.1, 5.2, 2.45, {}, {}};
    for (Wall& wall : room.walls) wall.branches = {{resistance, 0, 0}};
    return room;
}

Contents furnished(const Room& room) {
    return contents_of(find_named_contents("furnished"), room.width * room.length);
}

/// The rigid room with rho -> rho s and k^2 -> k^2 s, as the triple sum of the textbooks (Kuttruff,
/// Room Acoustics, sec. 3.2), written from the differential equation and by nothing of the solver:
/// p/U = j w rho s/V sum_N eps_N cos cos/(k_N^2 - k^2 s).
Complex triple_sum(const Room& room, const Air& air, double frequency, Complex s, const Point& a,
                   const Point& b, int most) {
    const double omega = 2 * M_PI * frequency, k = omega / air.speed_of_sound;
    const auto shape = [](int n, double side, double x) { return std::cos(n * M_PI * x / side); };
    Complex sum = 0;
    for (int x = 0; x <= most; ++x)
        for (int y = 0; y <= most; ++y)
            for (int z = 0; z <= most; ++z) {
                const double here = shape(x, room.width, a.x) * shape(y, room.length, a.y) *
                                    shape(z, room.height, a.z) * shape(x, room.width, b.x) *
                                    shape(y, room.length, b.y) * shape(z, room.height, b.z);
                const double square = std::pow(x * M_PI / room.width, 2) +
                                      std::pow(y * M_PI / room.length, 2) +
                                      std::pow(z * M_PI / room.height, 2);
                sum += (x ? 2.0 : 1.0) * (y ? 2.0 : 1.0) * (z ? 2.0 : 1.0) * here /
                       (square - k * k * s);
            }
    return j * omega * air.density * s / (room.width * room.length * room.height) * sum;
}

}  // namespace

TEST_CASE("A rigid room with contents is the textbook sum with a complex density") {
    const Air air;
    Room room = walls_of(1e9);
    const double volume = 4.1 * 5.2 * 2.45;
    const Point from{0.4, 0.5, 0.3}, to{2.9, 3.7, 1.2};
    for (const bool constant : {true, false}) {
        room.contents = constant ? constant_contents(6) : furnished(room);
        for (const double f : {15.0, 41.0, 71.3, 118.0}) {
            INFO(f << " Hz, constant " << constant);
            // delta = c A H/(8 V), s = 1 - 2j delta/w.
            const double omega = 2 * M_PI * f;
            Complex h = 1;
            if (!constant) h = 1.0 / (1.0 + 3.0 * j * (f / 140 - 140 / f));
            const Complex delta = 343.2 * room.contents.area * h / (8 * volume);
            const Complex expected =
                triple_sum(room, air, f, 1.0 - 2.0 * j * delta / omega, from, to, 220);
            const std::vector<double> frequency{f};
            const auto z = modal_transfer(room, air, frequency, {&from, 1}, {&to, 1});
            // What the cut-off sum misses falls as 1/most; a wrong factor s would be off by 5 %.
            CHECK(std::abs(z.at(0, 0, 0) / expected - 1.0) < 5e-3);
        }
    }
}

TEST_CASE("Contents add delta to every mode between rigid walls, and leave the zero mode alone") {
    const Air air;
    Room room = walls_of(1e9);
    const double delta = 343.2 * 6 / (8 * room.volume());
    room.contents = constant_contents(6);
    const auto modes = room_modes(room, air, 120);
    REQUIRE(modes.size() > 10);
    for (const Mode& mode : modes)
        CHECK(3 * std::log(10.0) / mode.decay_time == Approx(delta).epsilon(1e-3));
    // The pressure zone: p = rho c^2 U/(j w V) with and without.
    const std::vector<double> frequency{0.5};
    const std::vector<Point> from{{0.4, 0.3, 0.2}}, to{{2, 3.5, 1.1}};
    const Complex spring = air.density * 343.2 * 343.2 / (j * M_PI * room.volume());
    for (const Contents& contents : {Contents{}, constant_contents(6), furnished(room)}) {
        room.contents = contents;
        const Complex z = modal_transfer(room, air, frequency, from, to).at(0, 0, 0);
        // The contents' own resistance, w delta/w_1^2 of it, is all that may show.
        CHECK(std::abs(z / spring - 1.0) < 4e-3);
    }
}

TEST_CASE("Contents and yielding walls: each mode loses to both") {
    const Air air;
    Room room = walls_of(20000);
    const auto bare = room_modes(room, air, 90);
    room.contents = constant_contents(3);
    const auto lossy = room_modes(room, air, 90);
    REQUIRE(bare.size() == lossy.size());
    const double delta = 343.2 * 3 / (8 * room.volume());
    for (std::size_t n = 0; n < bare.size(); ++n) {
        const double gain = 3 * std::log(10.0) * (1 / lossy[n].decay_time - 1 / bare[n].decay_time);
        CHECK(gain == Approx(delta).epsilon(0.01));  // to first order in both losses
    }
}

TEST_CASE("Named contents leave the bass as it is and damp 125 Hz") {
    const Air air;
    // Sizes of living rooms, heavy walls as they measure below 100 Hz.
    for (const Point& side : {Point{4.1, 5.2, 2.45}, Point{3.2, 3.9, 2.4}, Point{5.0, 7.0, 2.6}})
        for (const NamedContents& named : named_contents()) {
            INFO(named.name << " in " << side.x << " x " << side.y << " x " << side.z);
            Room room{side.x, side.y, side.z, {}, {}};
            room.walls.fill(wall_from_absorption(0.02, air));
            const auto bare = room_modes(room, air, 85);
            room.contents = contents_of(named, side.x * side.y);
            for (const Mode& mode : bare) {
                if (mode.frequency > 80) continue;
                const Mode now = room_mode(room, air, mode.order);
                CHECK(now.frequency == Approx(mode.frequency).epsilon(0.01));
                if (mode.frequency <= 50)
                    CHECK(now.decay_time == Approx(mode.decay_time).epsilon(0.3));
            }
        }
}

TEST_CASE("Contents are passive at every frequency") {
    const Air air;
    for (const NamedContents& named : named_contents())
        for (double f = 1; f < 1000; f *= 1.03)
            CHECK(contents_of(named, 20).decay_rate(2 * M_PI * f, air, 50).real() >= 0);
}

TEST_CASE("All forms of the exact solver see the same contents") {
    const Air air;
    Room room = walls_of(9000);
    const std::vector<double> frequency{18, 40, 63, 97, 125, 160};
    const std::vector<Point> from{{0.4, 0.5, 0.3}, {3.7, 0.4, 0.3}}, to{{2, 3.5, 1.1}, {1, 3, 1.2}};
    for (const Contents& contents : {constant_contents(8), furnished(room)}) {
        room.contents = contents;
        const auto exact = modal_transfer(room, air, frequency, from, to);
        const auto many = modal_transfer_many(room, air, frequency, from, to);
        PreparedRoom prepared(room, air, frequency);
        const auto kept = prepared.transfer(from, to);
        for (std::size_t i = 0; i < exact.value.size(); ++i) {
            CHECK(std::abs(Complex(many.value[i]) / exact.value[i] - 1.0) < 1e-3);
            CHECK(std::abs(kept.value[i] / exact.value[i] - 1.0) < 1e-3);
        }
    }
}

TEST_CASE("Names of contents are found, wrong ones helped, negative areas refused") {
    CHECK(find_named_contents("soft").area_per_floor >
          find_named_contents("furnished").area_per_floor);
    CHECK(contents_of(find_named_contents("bare"), 20).empty());
    const auto mend = [](const char* name) {
        try {
            find_named_contents(name);
        } catch (const Error& error) {
            return error.faults().at(0).mend;
        }
        return std::string();
    };
    CHECK(mend("furnishd").find("\"furnished\"") != std::string::npos);
    CHECK(mend("zzz").find("sparse") != std::string::npos);
    CHECK_THROWS_AS(constant_contents(-1), Error);
    CHECK_THROWS_AS(constant_contents(std::nan("")), Error);
}
