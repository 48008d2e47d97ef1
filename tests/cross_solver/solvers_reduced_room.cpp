// The reduced basis against full solutions and against the exact sums of a rectangle.
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <optional>

#include "base/error.hpp"
#include "differences.hpp"
#include "l_shaped_room.hpp"
#include "solvers/element_solver.hpp"
#include "solvers/modal.hpp"
#include "solvers/reduced_basis.hpp"
#include "solvers/solved_rooms.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}}, brick{{{3e5, 0, 0}}};
/// None of them a frequency that the basis is trained at.
const std::vector<double> frequency{16.3, 28.7, 43.1, 71.3, 101.7, 133.3, 147.7};
const std::vector<Point> seats{{1.3, 3.6, 1.1}, {4.0, 1.6, 1.2}};
const std::vector<Point> spots{{0.3, 0.4, 0.2}, {4.4, 0.4, 0.3}, {0.4, 2.1, 0.2}, {2.6, 2.0, 0.3}};

Room l_shaped() {
    Room room = l_shaped_room(brick, studs, plaster);
    room.contents = contents_of(find_named_contents("sparse"), 17);
    return room;
}

}  // namespace

TEST_CASE("Reduced room: as the full solution, where it was not trained") {
    const Room room = l_shaped();
    const auto full = ElementSolver(room, Air{}, {}).transfer(frequency, spots, seats);
    ReducedRoom reduced(room, Air{}, 150);
    const auto z = reduced.transfer<double>(frequency, spots, seats);
    const double off = worst(z, full, frequency).level;
    CHECK(off < 0.05);
    CHECK(off < reduced.report().change_db);  // its own estimate, on the safe side
    CHECK(reduced.report().functions < reduced.report().unknowns / 10);

    // Places that it was not trained at: the estimate is no smaller than the error in 95 %.
    std::vector<Point> floor;
    for (double x = 0.25; x < 4.8; x += 0.7)
        for (double y = 0.2; y < 4.2; y += 0.7)
            if (room.contains({x, y, 0.2})) floor.push_back({x, y, 0.2});
    const auto there_full = ElementSolver(room, Air{}, {}).transfer(frequency, seats, floor);
    const auto there_reduced = reduced.transfer<double>(frequency, floor, seats);
    int all = 0, above = 0;
    double squares = 0;
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t s = 0; s < seats.size(); ++s)
            for (std::size_t n = 0; n < floor.size(); ++n) {
                const double error =
                    20 * std::log10(std::abs(there_reduced.at(f, s, n) / there_full.at(f, n, s)));
                ++all, above += std::abs(error) > reduced.report().change_db;
                squares += error * error;
            }
    CHECK(above < 0.05 * all);
    CHECK(std::sqrt(squares / all) < 0.05);

    // Seats that it has never heard of are learnt.
    const std::vector<Point> moved{{2.1, 3.1, 1.0}, {3.4, 1.1, 1.1}};
    const auto there = ElementSolver(room, Air{}, {}).transfer(frequency, spots, moved);
    CHECK(worst(reduced.transfer<double>(frequency, spots, moved), there, frequency).level < 0.1);
}

TEST_CASE("Reduced room: no sharp mode is missed between the full solutions") {
    // A live room whose door leads to a hall: modes of a few Hz width, some hardly heard elsewhere.
    Room room{2.8, 3.4, 2.5, {}, {}};
    for (Wall& wall : room.walls) wall = wall_from_absorption(0.02, Air{});
    Space hall{"hall", {-1.0, 3.52, 0}, {4.2, 4.82, 2.5}, {}};
    hall.walls.assign(6, {"", wall_from_absorption(0.05, Air{}), ""});
    room.plan.spaces = {hall};
    room.plan.openings = {{"door", {1.9, 3.4, 0}, {2.7, 3.4, 2.0}, 0}};
    const std::vector<Point> two{{1.4, 2.4, 1.1}, {0.9, 2.6, 1.2}}, corner{{0.35, 0.4, 0.2}};
    ReducedRoom reduced(room, Air{}, 200);
    reduced.learn(two);
    std::vector<double> at;
    for (const FreeOscillation& free : reduced.free_oscillations(200))
        at.push_back(free.mode.frequency);
    REQUIRE(at.size() > 30);
    const auto full = ElementSolver(room, Air{}, mesh_for(200)).transfer(at, corner, two);
    const auto z = reduced.transfer<double>(at, corner, two);
    const double off = worst(z, full, at, 200).level;
    CHECK(off < 0.1);
    CHECK(off < reduced.report().change_db);
}

TEST_CASE("Reduced room: a rectangle is the exact sum") {
    Room room{4.8, 4.2, 2.4, {plaster, studs, brick, plaster, plaster, studs}, {}};
    const std::vector<Point> here{{1.3, 3.6, 1.1}, {4.0, 2.6, 1.2}};
    const auto exact = modal_transfer(room, Air{}, frequency, spots, here);
    const auto z = ReducedRoom(room, Air{}, 150).transfer<double>(frequency, spots, here);
    CHECK(worst(z, exact, frequency).level < 0.1);
}

TEST_CASE("Reduced room: either side may sound, and it gives no power") {
    ReducedRoom reduced(l_shaped(), Air{}, 150);
    reduced.transfer<double>(frequency, seats, spots);  // both sides are learnt: one basis for all
    reduced.transfer<double>(frequency, spots, seats);
    const auto there = reduced.transfer<double>(frequency, seats, spots);
    const auto back = reduced.transfer<double>(frequency, spots, seats);
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t a = 0; a < seats.size(); ++a)
            for (std::size_t b = 0; b < spots.size(); ++b)
                CHECK(std::abs(there.at(f, b, a) - back.at(f, a, b)) <
                      1e-6 * std::abs(back.at(f, a, b)));

    const Room room = l_shaped();
    const ElementSolver solver(room, Air{}, {});
    ReducedBasis basis(solver);
    basis.add(full_solutions(solver, basis.weight(),
                             std::vector<RoomAt>{{&room, 25}, {&room, 80}, {&room, 140}}, seats));
    const ReducedModel model = basis.project(solver.matrices(), {});
    const Eigen::MatrixXd load = basis.functions().times(solver.point_values(spots));
    for (const double f : {20.0, 63.0, 140.0}) {
        const OperatorScales scales = operator_scales(l_shaped(), Air{}, f);
        const Eigen::MatrixXcd p = load.transpose() * model.solve({&scales, 1}, load).front();
        for (int n = 0; n < p.rows(); ++n) CHECK(p(n, n).imag() < 0);  // Re Z = -w rho Im > 0
    }
}

TEST_CASE("Reduced room: what it cannot do is said") {
    CHECK_THROWS_AS(ReducedRoom(l_shaped(), Air{}, 500), Error);
    ReducedRoom room(l_shaped(), Air{}, 150);
    const std::vector<Point> outside{{4, 4, 1}};
    CHECK_THROWS_AS(room.transfer<double>(frequency, outside, seats), Error);
}

TEST_CASE("Reduced room: what was kept is the same room, and anything else is refused") {
    ReducedRoom room(l_shaped(), Air{}, 150);
    const auto z = room.transfer<double>(frequency, spots, seats);
    const std::string bytes = room.kept().joined();
    ReducedRoom again(l_shaped(), Air{}, 150);
    for (const std::size_t length :
         {std::size_t{0}, std::size_t{39}, bytes.size() / 2, bytes.size() - 1})
        CHECK_FALSE(again.take(bytes.substr(0, length)));
    CHECK_FALSE(again.take(bytes + "x"));
    ReducedRoom higher(l_shaped(), Air{}, 200);
    CHECK_FALSE(higher.take(bytes));
    REQUIRE(again.take(bytes));
    CHECK(again.report().places == room.report().places);
    CHECK(again.transfer<double>(frequency, spots, seats).value == z.value);
}

TEST_CASE("Reduced room: what was learnt beside something known is kept by itself") {
    ReducedRoom room(l_shaped(), Air{}, 150);
    room.learn(seats);
    const std::string seats_alone = room.kept().joined();
    ReducedRoom more = room;
    more.learn(std::vector<Point>{{0.4, 0.4, 0.2}});
    const std::string rest = more.kept(room.report().functions).joined();
    CHECK(rest.size() < more.kept().size() / 2);
    ReducedRoom again(l_shaped(), Air{}, 150);
    CHECK_FALSE(again.take(rest));  // of what is it the rest?
    REQUIRE(again.take(seats_alone));
    REQUIRE(again.take(rest));
    CHECK_FALSE(again.take(rest));
    CHECK(again.transfer<double>(frequency, spots, seats).value ==
          more.transfer<double>(frequency, spots, seats).value);
    // As many functions, but of another room.
    Room other = l_shaped();
    other.plan.edges[0].wall = other.plan.edges[3].wall;
    ReducedRoom others(other, Air{}, 150);
    others.learn(seats);
    CHECK_FALSE(others.take(rest));
}

namespace {

/// A cache in memory, and how often it was asked.
struct Memory {
    std::map<std::string, std::string> kept;
    int asked = 0;
    RoomStore store() {
        return {
            [this](const std::string& key) -> std::optional<std::string> {
                ++asked;
                const auto found = kept.find(key);
                if (found == kept.end()) return {};
                return found->second;
            },
            [this](const std::string& key, const Pieces& bytes) { kept[key] = bytes.joined(); }};
    }
};

}  // namespace

TEST_CASE("Solved rooms: each is solved once, and an answer depends on what is asked alone") {
    const std::vector<Point> subs{{0.4, 0.4, 0.2}};
    Memory memory;
    SolvedRooms first(memory.store(), seats);
    const auto z = first.transfer<double>(l_shaped(), Air{}, frequency, spots, seats);
    first.transfer<double>(l_shaped(), Air{}, std::vector<double>{30}, seats, seats);
    CHECK(memory.asked == 1);
    CHECK(memory.kept.size() == 1);
    // Another place is learnt beside the seats, and the seats' own answer stays as it was.
    const auto there = first.transfer<double>(l_shaped(), Air{}, frequency, spots, subs);
    CHECK(memory.kept.size() == 2);
    CHECK(first.transfer<double>(l_shaped(), Air{}, frequency, spots, seats).value == z.value);
    // The other way round, with nothing kept and with everything kept.
    for (const bool empty : {true, false}) {
        Memory none;
        SolvedRooms again(empty ? none.store() : memory.store(), seats);
        CHECK(again.transfer<double>(l_shaped(), Air{}, frequency, spots, subs).value ==
              there.value);
        CHECK(again.transfer<double>(l_shaped(), Air{}, frequency, spots, seats).value == z.value);
    }
    CHECK(memory.kept.size() == 2);
}

TEST_CASE("Solved rooms: all that a level depends on is in the key") {
    const std::string key = solved_room_key(l_shaped(), Air{}, 150, seats);
    std::vector<Room> others(6, l_shaped());
    others[0].plan.outline[2].x += 1e-9;
    others[1].plan.edges[3].wall = plaster;
    others[2].walls[ceiling_wall] = brick;
    others[3].contents.area *= 2;
    others[4].height = 2.5;
    others[5].plan.blocks.push_back({"", {1, 1, 0}, {2, 2, 1}, {"", brick, ""}});
    for (const Room& other : others) CHECK(solved_room_key(other, Air{}, 150, seats) != key);
    CHECK(solved_room_key(l_shaped(), Air{340, 1.2}, 150, seats) != key);
    CHECK(solved_room_key(l_shaped(), Air{}, 200, seats) != key);
    CHECK(solved_room_key(l_shaped(), Air{}, 150, spots) != key);
    Room renamed = l_shaped();
    renamed.plan.edges[0].name = "long wall";
    CHECK(solved_room_key(renamed, Air{}, 150, seats) == key);
}
