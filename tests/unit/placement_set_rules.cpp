// Which boxes touch, and when a room is its own mirror image.
#include <catch2/catch.hpp>
#include <cmath>

#include "placement/set_rules.hpp"

using namespace boxroom;

namespace {

Scenario room() {
    Scenario s;
    s.acoustics.room.width = 4, s.acoustics.room.length = 5, s.acoustics.room.height = 2.5;
    for (Wall& wall : s.acoustics.room.walls) wall = {{{9000, 0, 0}}};
    s.seats = {{"a", {2, 4, 1.1}, 1}};
    s.wanted.spots.step = 0.4;
    return s;
}

struct Floor {
    SpotGrid grid;
    std::vector<int> spots;
    SetRules rules;
    Floor(const Scenario& s, const Sides& box) : grid(s, box) {
        for (int n = 0; n < grid.size(); ++n)
            if (grid.fits(n, box)) spots.push_back(n);
        rules = make_set_rules(s, grid, box, spots);
    }
};

}  // namespace

TEST_CASE("boxes clash as they stand, turned by the way they face") {
    Scenario s = room();
    Sides box = enclosure(0.03, s.design.enclosure);
    box.width = 0.60, box.depth = 0.30;
    const Floor floor(s, box);
    int turned_pairs = 0;
    for (std::size_t i = 0; i < floor.spots.size(); ++i)
        for (std::size_t j = 0; j < floor.spots.size(); ++j) {
            const auto side = [&](std::size_t n, bool across) {
                const Facing facing = floor.grid.facing(floor.spots[n]);
                const bool sideways = facing == Facing::left || facing == Facing::right;
                return across != sideways ? 0.60 : 0.30;
            };
            const Point a = floor.grid.footprint(floor.spots[i], box),
                        b = floor.grid.footprint(floor.spots[j], box);
            const bool overlap = std::abs(a.x - b.x) < (side(i, true) + side(j, true)) / 2 - 1e-6 &&
                                 std::abs(a.y - b.y) < (side(i, false) + side(j, false)) / 2 - 1e-6;
            REQUIRE(overlap == (floor.rules.clash[i * floor.spots.size() + j] != 0));
            turned_pairs += side(i, true) != side(j, true) && overlap;
        }
    CHECK(turned_pairs > 0);  // or nothing here was turned
}

TEST_CASE("a mirrored room leaves out mirrored sets; one that is no rectangle leaves out none") {
    Scenario s = room();
    const Sides box = enclosure(0.03, s.design.enclosure);
    CHECK(Floor(s, box).rules.symmetric);
    s.acoustics.room.walls[right_wall].branches[0].resistance = 5000;
    CHECK_FALSE(Floor(s, box).rules.symmetric);
    s = room();
    // A duct under the ceiling of one side: no box notices, but the sound does.
    Block duct;
    duct.from = {0, 0, 2.2}, duct.to = {0.4, 5, 2.5};
    duct.surface = {"duct", s.acoustics.room.walls[0], ""};
    s.acoustics.room.plan.outline = {{0, 0, 0}, {4, 0, 0}, {4, 5, 0}, {0, 5, 0}};
    for (int n = 0; n < 4; ++n)
        s.acoustics.room.plan.edges.push_back({"edge", s.acoustics.room.walls[0], ""});
    s.acoustics.room.plan.blocks.push_back(duct);
    REQUIRE_FALSE(s.acoustics.room.is_rectangle());
    CHECK_FALSE(Floor(s, box).rules.symmetric);
}

TEST_CASE(
    "every set of one or two has an image that is looked at, spots on the axis of symmetry too") {
    // By brute force: mirrored across, along and both, one of a set's images begins with a spot
    // that `first` keeps. What it leaves out is heard elsewhere. A box on the axis across stands
    // nearer to the front or the back of a wide room; one that looks up stands anywhere, and in the
    // very middle it is its own image both ways.
    struct Case {
        double width, length;
        bool odd_across, odd_along;
        Facing facing;
        std::vector<Point> seats;
        bool across, along;  ///< the room is its own image
    };
    const std::vector<Case> cases{
        {5, 4, true, false, Facing::inward, {{2.5, 3.2, 1.1}}, true, false},
        {5, 4, true, false, Facing::inward, {{2.5, 2, 1.1}}, true, true},
        {4, 5, false, true, Facing::inward, {{1.2, 2.5, 1.1}}, false, true},
        {4, 5, false, true, Facing::inward, {{2, 2.5, 1.1}}, true, true},
        {5,
         4,
         true,
         true,
         Facing::up,
         {{1, 0.8, 1.1}, {4, 0.8, 1.1}, {1, 3.2, 1.1}, {4, 3.2, 1.1}},
         true,
         true}};
    for (const Case& c : cases) {
        Scenario scenario = room();
        scenario.acoustics.room.width = c.width, scenario.acoustics.room.length = c.length;
        scenario.design.enclosure.facing = c.facing;
        scenario.seats.clear();
        for (const Point& at : c.seats) scenario.seats.push_back({"a", at, 1});
        const Sides box = enclosure(0.03, scenario.design.enclosure);
        const auto fits = [&] {
            const SpotGrid grid(scenario, box);
            return (grid.nx() % 2 == 1) == c.odd_across && (grid.ny() % 2 == 1) == c.odd_along;
        };
        while (!fits()) scenario.wanted.spots.step += 0.01;
        const Floor floor(scenario, box);
        REQUIRE(floor.rules.symmetric);
        const int count = static_cast<int>(floor.spots.size());
        const auto image = [&](int n, bool across, bool along) {
            Point p = floor.grid.footprint(floor.spots[n], box);
            if (across) p.x = c.width - p.x;
            if (along) p.y = c.length - p.y;
            for (int m = 0; m < count; ++m) {
                const Point q = floor.grid.footprint(floor.spots[m], box);
                if (std::hypot(p.x - q.x, p.y - q.y) < 1e-6) return m;
            }
            return -1;
        };
        int on_axis = 0, left_out = 0;
        for (int i = 0; i < count; ++i) {
            on_axis += image(i, c.across && c.odd_across, c.along && c.odd_along) == i;
            left_out += !floor.rules.first[i];
            for (int j = i; j < count; ++j) {  // j = i: the spot by itself
                bool looked_at = floor.rules.first[i];
                for (const bool along : {false, true}) {
                    for (const bool across : {false, true}) {
                        if ((along && !c.along) || (across && !c.across)) continue;
                        const int a = image(i, across, along), b = image(j, across, along);
                        REQUIRE(a >= 0);
                        REQUIRE(b >= 0);
                        looked_at = looked_at || floor.rules.first[std::min(a, b)];
                    }
                }
                REQUIRE(looked_at);
            }
        }
        CHECK(on_axis > 0);
        CHECK(left_out > 0);
    }
}
