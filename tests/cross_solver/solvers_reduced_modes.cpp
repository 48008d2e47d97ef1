// Free oscillations by elements: against the formulas of a rectangle, and against an L of rigid
// walls whose frequencies are published.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <random>

#include "base/error.hpp"
#include "solvers/dense_algebra.hpp"
#include "solvers/mode_shape.hpp"
#include "solvers/reduced_model.hpp"
#include "solvers/reduced_room.hpp"
#include "solvers/solved_rooms.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}}, brick{{{3e5, 0, 0}}},
    rigid{{{1e7, 0, 0}}};

std::vector<FreeOscillation> by_elements(const Room& room, const std::vector<Point>& places,
                                         double highest) {
    ReducedRoom reduced(room, Air{}, 150);
    reduced.learn(places);
    return reduced.free_oscillations(highest);
}

}  // namespace

TEST_CASE("Free oscillations: a rectangle's are its formulas', every one and no other") {
    Room room{4.8, 4.2, 2.4, {plaster, studs, brick, plaster, plaster, studs}, {}};
    room.contents = contents_of(find_named_contents("furnished"), 20);
    const std::vector<Point> places{{1.3, 3.6, 1.1}, {4.0, 2.6, 1.2}};
    const auto found = by_elements(room, places, 140);
    const auto exact = room_modes(room, Air{}, 140);
    REQUIRE(found.size() == exact.size());
    for (std::size_t n = 0; n < exact.size(); ++n) {
        const Mode& mode = found[n].mode;
        INFO(exact[n].frequency << " Hz, decays in " << exact[n].decay_time << " s");
        CHECK(mode.frequency == Approx(exact[n].frequency).epsilon(5e-4));
        CHECK(mode.decay_time == Approx(exact[n].decay_time).epsilon(0.01));
        CHECK(mode.q == Approx(exact[n].q).epsilon(0.01));
    }
}

TEST_CASE("Free oscillations: what one does at a place is what the formula's does") {
    Room room{4.8, 4.2, 2.4, {}, {}};
    room.walls.fill(plaster);
    const Point source{0.4, 0.3, 0.2}, seat{1.3, 3.6, 1.1};
    const auto found = by_elements(room, {seat}, 80);
    const auto exact = room_modes(room, Air{}, 80);
    REQUIRE(found.size() == exact.size());
    for (std::size_t n = 0; n < exact.size(); ++n) {
        const ModeShape shape(room, Air{}, exact[n]);
        const auto ours = found[n].transfer * found[n].shape(source) * found[n].shape(seat);
        const auto formula = shape.transfer() * shape.at(source) * shape.at(seat);
        const auto loudest = shape.transfer() * shape.at({0, 0, 0}) * shape.at({0, 0, 0});
        CHECK(std::abs(ours - formula) < 0.03 * std::abs(loudest));
    }
}

// An L of three unit squares between rigid walls: the eigenvalues of the Laplacian, of
// M. Dauge, Benchmark computations for Maxwell equations (2004), the L-shaped domain, whose
// electric fields are the gradients' rotations of these; from memory, to the digits that are
// checked.
TEST_CASE("Free oscillations: of an L of rigid walls, as published") {
    constexpr double unit = 2.5, height = 1.1;
    Room room{2 * unit, 2 * unit, height, {}, {}};
    room.plan.outline = {{0, 0, 0},       {2 * unit, 0, 0},    {2 * unit, unit, 0},
                         {unit, unit, 0}, {unit, 2 * unit, 0}, {0, 2 * unit, 0}};
    for (int i = 0; i < 6; ++i) room.plan.edges.push_back({"", rigid, ""});
    room.walls.fill(rigid);
    const auto found = by_elements(room, {{1.1, 3.9, 0.9}, {4.1, 0.7, 0.4}}, 75);
    const double published[] = {1.47562182, 3.53403137, 9.86960440, 9.86960440, 11.38947940};
    REQUIRE(found.size() == std::size(published));
    for (std::size_t n = 0; n < found.size(); ++n)
        CHECK(found[n].mode.frequency ==
              Approx(Air{}.speed_of_sound * std::sqrt(published[n]) / (2 * M_PI * unit))
                  .epsilon(1e-3));
}

namespace {

/// How often the determinant of a room's reduced operator turns round on the way from a to b, by
/// steps that turn it by little [rad].
class Turning {
  public:
    explicit Turning(const ReducedRoom& room) : room_(room) {}

    double between(std::complex<double> a, std::complex<double> b) const {
        return between(a, b, phase(a), phase(b));
    }

  private:
    double phase(std::complex<double> omega) const {
        const auto a =
            room_.model().lower_half(operator_scales_at(room_.room(), room_.air(), omega));
        return log_determinant(whole_symmetric(a)).imag();
    }
    double between(std::complex<double> a, std::complex<double> b, double at_a, double at_b) const {
        const std::complex<double> middle = (a + b) / 2.0;
        const double at_middle = phase(middle), first = std::remainder(at_middle - at_a, 2 * M_PI),
                     second = std::remainder(at_b - at_middle, 2 * M_PI);
        if (std::abs(b - a) < 8 && std::abs(first) < 0.8 && std::abs(second) < 0.8)
            return first + second;
        return between(a, middle, at_a, at_middle) + between(middle, b, at_middle, at_b);
    }
    const ReducedRoom& room_;
};

/// An L with a door into a hall, which has modes of its own beside the room's: walls of resistance
/// alone, each of another.
Room l_and_hall(unsigned seed) {
    std::mt19937 random(seed);
    const auto any = [&random] {
        return Wall{{{4000 * std::pow(10, random() % 1500 / 1000.0), 0, 0}}};
    };
    Room room{5.4, 5.4, 2.4, {}, {}};
    room.plan.outline = {{0, 0, 0},     {5.4, 0, 0},   {5.4, 3.0, 0},
                         {3.6, 3.0, 0}, {3.6, 5.4, 0}, {0, 5.4, 0}};
    for (int n = 0; n < 6; ++n) room.plan.edges.push_back({"", any(), ""});
    for (Wall& wall : room.walls) wall = any();
    Space hall{"hall", {-1.8, 1.2, 0}, {-0.12, 5.4, 2.4}, {}};
    for (const char* name : wall_names) hall.walls.push_back({name, any(), ""});
    room.plan.spaces = {hall};
    room.plan.openings = {{"door", {0, 3.0, 0}, {0, 3.9, 2.04}, 0}};
    return room;
}

}  // namespace

// Cauchy's argument principle: as often as the determinant turns round along a closed path, so many
// zeros it has inside. Walls of resistance alone give it no poles.
TEST_CASE("Free oscillations: every one, those that lie close together too") {
    const unsigned seed = GENERATE(8u, 11u);
    ReducedRoom reduced(l_and_hall(seed), Air{}, 200);
    reduced.learn(std::vector<Point>{{1.1, 2.9, 0.9}, {2.1, 0.7, 0.4}});
    const auto found = reduced.free_oscillations(200);
    // A gap to begin in and one to end in; they decay by up to 60 1/s.
    const auto gap = [&](double from, double to) {
        double best = 0, at = 0;
        for (std::size_t n = 1; n < found.size(); ++n) {
            const double low = found[n - 1].mode.frequency, high = found[n].mode.frequency;
            if (low > from && high < to && high - low > best)
                best = high - low, at = (low + high) / 2;
        }
        return at;
    };
    const double begin = gap(80, 120), end = gap(185, 200), low = -10, high = 100;
    const Turning turning(reduced);
    const std::complex<double> corner[] = {{2 * M_PI * begin, low},
                                           {2 * M_PI * end, low},
                                           {2 * M_PI * end, high},
                                           {2 * M_PI * begin, high}};
    double turned = 0;
    for (int n = 0; n < 4; ++n) turned += turning.between(corner[n], corner[(n + 1) % 4]);
    const auto inside = std::ranges::count_if(found, [&](const FreeOscillation& free) {
        return free.mode.frequency > begin && free.mode.frequency < end;
    });
    CHECK(inside > 70);
    CHECK(turned / (2 * M_PI) == Approx(static_cast<double>(inside)).margin(1e-6));
}

namespace {

Space next_door(const Point& from, const Point& to, const std::array<Wall, 6>& walls) {
    Space space{"next door", from, to, {}};
    for (int w = 0; w < 6; ++w) space.walls.push_back({wall_names[w], walls[w], ""});
    return space;
}

std::vector<FreeOscillation> known(const Room& room, double highest) {
    SolverSettings settings;
    settings.solved = std::make_shared<SolvedRooms>();
    return free_oscillations(room, Air{}, highest, settings);
}

}  // namespace

TEST_CASE("Free oscillations: two half rooms with nothing between them have those of the whole") {
    Room whole{5.4, 1.9, 1.5, {}, {}};
    for (int w = 0; w < 6; ++w) whole.walls[w].branches = {{9000.0 + 1000 * w, 0, 0}};
    const auto expected = room_modes(whole, Air{}, 100);
    REQUIRE(expected.size() == 5);
    Room room{3.1, 1.9, 1.5, whole.walls, {}};
    room.plan.spaces = {next_door({3.1, 0, 0}, {5.4, 1.9, 1.5}, whole.walls)};
    room.plan.openings = {{"nothing between", {3.1, 0, 0}, {3.1, 1.9, 1.5}, 0}};
    const auto found = known(room, 100);
    REQUIRE(found.size() == expected.size());
    for (std::size_t n = 0; n < found.size(); ++n) {
        INFO("mode " << n << " at " << expected[n].frequency << " Hz");
        CHECK(found[n].mode.frequency == Approx(expected[n].frequency).epsilon(2e-3));
        CHECK(found[n].mode.decay_time == Approx(expected[n].decay_time).epsilon(0.02));
    }
}

TEST_CASE("Free oscillations: the shut room's names, and the air in the door before all of them") {
    Room room{3.0, 4.2, 2.4, {}, {}};
    for (Wall& wall : room.walls) wall = wall_from_absorption(0.03, Air{});
    Room outside = room, hall = room;
    outside.plan.openings = {{"window", {3.0, 1.0, 0.9}, {3.0, 1.6, 1.5}, -1}};
    hall.plan.spaces = {next_door({0, 4.3, 0}, {1.5, 7.3, 2.4}, room.walls)};
    hall.plan.openings = {{"door", {0.4, 4.2, 0}, {1.2, 4.2, 2.0}, 0}};
    const auto shut = room_modes(room, Air{}, 90);
    for (const Room* now : {&outside, &hall}) {
        const auto open = known(*now, 95);
        CHECK(open.front().mode.order == std::array{0, 0, 0});
        // c/(2 pi) sqrt(S/(l V)), l = 2 x 0.85 sqrt(S/pi) (Kinsler et al., Fundamentals of
        // Acoustics, 4th ed., sec. 10.8).
        if (now == &outside) {
            const double area = 0.36, length = 1.7 * std::sqrt(area / M_PI);
            CHECK(open.front().mode.frequency == Approx(Air{}.speed_of_sound / (2 * M_PI) *
                                                        std::sqrt(area / (length * room.volume())))
                                                     .epsilon(0.04));
        }
        // Each of the room's own is there, lifted by a few hertz at most.
        std::size_t elsewhere = 0;
        for (const Mode& mode : shut) {
            INFO(mode.frequency << " Hz");
            CHECK(std::ranges::any_of(open, [&](const FreeOscillation& free) {
                return !free.mode.next_door && free.mode.order == mode.order &&
                       free.mode.frequency > mode.frequency - 0.5 &&
                       free.mode.frequency < mode.frequency + 6;
            }));
        }
        for (const FreeOscillation& free : open) elsewhere += free.mode.next_door;
        // The hall's: 3.0 m give 57 Hz, 2.4 m 71.5 Hz, and it is the softer spring to the door's
        // air.
        CHECK(elsewhere == (now == &hall ? 3 : 0));
    }
}

TEST_CASE("Free oscillations: where none are known, it is said") {
    Room room{3.0, 4.2, 2.4, {}, {}};
    room.walls.fill(plaster);
    room.plan.openings = {{"window", {3.0, 1.0, 0.9}, {3.0, 2.0, 2.0}, -1}};
    SolverSettings grid;
    grid.solver = RoomSolver::grid;
    CHECK_FALSE(knows_free_oscillations(room, grid));
    CHECK_THROWS_AS(free_oscillations(room, Air{}, 90, grid), Error);
}
