// A room as it may be, by what was learnt of others: against the exact sums of a rectangle and
// against full solutions of an L, at settings that nothing was trained at.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "differences.hpp"
#include "l_shaped_room.hpp"
#include "solvers/element_solver.hpp"
#include "solvers/modal.hpp"
#include "solvers/solved_rooms.hpp"
#include "solvers/stretched_room.hpp"
#include "solvers/varied_room.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}}, brick{{{3e5, 0, 0}}};
const std::vector<double> frequency{24, 25, 26, 27, 28,  29,  61, 62.5,
                                    64, 66, 68, 70, 108, 111, 114};
const std::vector<Point> seats{{1.3, 3.6, 1.1}, {2.1, 1.6, 1.2}};
const std::vector<Point> subs{{0.3, 0.4, 0.2}, {4.4, 0.4, 0.3}, {0.4, 2.1, 0.2}};

Room rectangle() {
    Room room{4.8, 4.2, 2.4, {plaster, studs, brick, plaster, plaster, studs}, {}};
    room.contents = contents_of(find_named_contents("sparse"), 17);
    return room;
}

Room l_shaped() {
    return l_shaped_room(brick, studs, plaster);
}

/// Surfaces and contents by factors up to two, all at one end or each by itself (0).
template <typename Number>
Room damped(Room room, const Number& share) {
    const auto vary = [&](Wall& wall) {
        const double by = std::pow(2.0, share());
        for (Branch& branch : wall.branches) branch.resistance *= by;
    };
    for (Wall& wall : room.walls) vary(wall);
    for (NamedWall& edge : room.plan.edges) vary(edge.wall);
    room.contents.area *= std::pow(2.0, -share());
    return room;
}

RoomVariant drawn(const Room& room, std::mt19937& random) {
    std::uniform_real_distribution<double> any(-1, 1);
    RoomVariant v{damped(room, [&] { return any(random); }), subs, seats};
    Stretch stretch = no_stretch;
    for (double& by : stretch) by += 0.01 * any(random);
    v.room = stretched(v.room, stretch);
    for (Point& p : v.receivers)
        p = {p.x + 0.1 * any(random), p.y + 0.1 * any(random), p.z + 0.1 * any(random)};
    for (Point& p : v.sources) p = {p.x + 0.05 * any(random), p.y + 0.05 * any(random), p.z};
    for (auto* places : {&v.sources, &v.receivers})
        for (Point& p : *places) p = stretched(p, stretch);
    return v;
}

/// Root of the mean square [dB], and the largest, without what is 15 dB under the mean.
template <typename Truth>
std::pair<double, double> off(const Room& room, int count, const Truth& truth) {
    std::mt19937 random(11);
    std::vector<RoomVariant> examples, variants;
    for (int n = 0; n < 12; ++n) examples.push_back(drawn(room, random));
    for (int n = 0; n < count; ++n) variants.push_back(drawn(room, random));
    const std::vector<Room> ends{damped(room, [] { return 1.0; }),
                                 damped(room, [] { return -1.0; })};
    const VariedRoom varied(SolvedRooms({}, seats).varied(room, Air{}, 114, ends, subs), Air{},
                            frequency, examples);
    const auto all = varied.transfer(variants);
    double squares = 0, largest = 0;
    int number = 0;
    for (std::size_t n = 0; n < variants.size(); ++n) {
        const TransferImpedance<double> exact = truth(variants[n]);
        for (std::size_t f = 0; f < frequency.size(); ++f) {
            const std::size_t each = exact.receivers * exact.sources;
            double mean = 0;
            for (std::size_t i = f * each; i < (f + 1) * each; ++i)
                mean += std::abs(exact.value[i]) / static_cast<double>(each);
            for (std::size_t i = f * each; i < (f + 1) * each; ++i) {
                if (std::abs(exact.value[i]) < 0.18 * mean) continue;
                const double db = 20 * std::log10(std::abs(all[n].value[i]) /
                                                  static_cast<float>(std::abs(exact.value[i])));
                squares += db * db, ++number, largest = std::max(largest, std::abs(db));
            }
        }
    }
    return {std::sqrt(squares / number), largest};
}

}  // namespace

TEST_CASE("Varied room: other walls, sides and places in a rectangle are the exact sums") {
    const auto [rms, largest] = off(rectangle(), 20, [](const RoomVariant& v) {
        return modal_transfer(v.room, Air{}, frequency, v.sources, v.receivers);
    });
    INFO(rms << " " << largest);
    CHECK(rms < 0.05);
    CHECK(largest < 0.5);
}

TEST_CASE("Varied room: other walls, sides and places in an L are full solutions") {
    const auto [rms, largest] = off(l_shaped(), 2, [](const RoomVariant& v) {
        return ElementSolver(v.room, Air{}, {}).transfer(frequency, v.sources, v.receivers);
    });
    INFO(rms << " " << largest);
    CHECK(rms < 0.05);
    CHECK(largest < 0.5);
}
