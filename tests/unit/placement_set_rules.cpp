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

// By brute force: of every pair of boxes that do not clash, some mirror image (found here by where
// the boxes stand) must begin with a spot that sets may begin with. Else the search never sees that
// pair nor its equal, and "proven best" is false; pairs on the room's axis are their own image.
TEST_CASE("of every set in a mirrored room some image is looked at") {
    Scenario s = room();
    for (const bool along_y_too : {false, true}) {
        if (along_y_too) {
            s.seats = {{"a", {2, 2.5, 1.1}, 1}};
            s.design.enclosure.facing = Facing::up;  // facing inward, both halves look ahead
        }
        const Sides box = enclosure(0.03, s.design.enclosure);
        const Floor floor(s, box);
        REQUIRE(floor.rules.symmetric);
        const auto image_of = [&](std::size_t n, bool x, bool y) {
            Point p = floor.grid.centre(floor.spots[n], box);
            if (x) p.x = 4 - p.x;
            if (y) p.y = 5 - p.y;
            for (std::size_t m = 0; m < floor.spots.size(); ++m) {
                const Point q = floor.grid.centre(floor.spots[m], box);
                if (std::hypot(p.x - q.x, p.y - q.y) < 1e-6) return m;
            }
            FAIL("a spot without its mirror image");
            return n;
        };
        int on_the_axis = 0;
        for (std::size_t i = 0; i < floor.spots.size(); ++i)
            for (std::size_t j = i + 1; j < floor.spots.size(); ++j) {
                if (floor.rules.clash[i * floor.spots.size() + j]) continue;
                bool seen = false;
                for (const bool x : {false, true})
                    for (const bool y : {false, true}) {
                        if (y && !along_y_too) continue;
                        seen = seen ||
                               floor.rules.first[std::min(image_of(i, x, y), image_of(j, x, y))];
                    }
                REQUIRE(seen);
                on_the_axis += image_of(i, true, false) == i && image_of(j, true, false) == j;
            }
        CHECK(on_the_axis > 0);
    }
}
