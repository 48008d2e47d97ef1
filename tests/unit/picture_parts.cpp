// The parts a floor map is drawn with: scale, isolines, regions, field, placing of labels.
#include <catch2/catch.hpp>

#include <cmath>

#include "picture/field.hpp"
#include "picture/isolines.hpp"
#include "picture/label_placer.hpp"
#include "picture/regions.hpp"
#include "picture/scale.hpp"

using namespace boxroom;

namespace {

template <class F>
FloorMap grid(int nx, int ny, F f) {
    FloorMap map;
    map.room_width = 4;
    map.room_length = 5;
    map.x0 = 0.2;
    map.y0 = 0.4;
    map.dx = 0.1;
    map.dy = 0.15;
    map.nx = nx;
    map.ny = ny;
    for (int iy = 0; iy < ny; ++iy)
        for (int ix = 0; ix < nx; ++ix) map.value.push_back(f(ix, iy));
    map.valid.assign(map.value.size(), 1);
    return map;
}

/// By the shoelace formula; positive where the corners go round as those of a cell do.
double area(const Isoline& polygon) {
    double twice = 0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const GridPoint &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
        twice += a.x * b.y - b.x * a.y;
    }
    return twice / 2;
}

double area_above(const FloorMap& map, double level) {
    double sum = 0;
    for (const Isoline& part : region_above(map, level)) {
        CHECK(area(part) > 0);
        sum += area(part);
    }
    return sum;
}

}  // namespace

TEST_CASE("scales are robust and round") {
    std::vector<double> values;
    for (int i = 0; i <= 100; ++i) values.push_back(i);
    values[100] = 1e6;  // one odd spot
    const Scale scale = robust_scale(values);
    CHECK(scale.low == Approx(0));
    CHECK(scale.high == Approx(100));
    CHECK(scale.step == Approx(20));
    CHECK(scale.ticks().size() == 6);
    CHECK(round_step(0.3) == Approx(0.5));
    CHECK(round_step(1) == Approx(1));
    CHECK(round_step(21) == Approx(50));
    CHECK(round_step(51) == Approx(100));
    CHECK(robust_scale({}).high > robust_scale({}).low);
    const Scale flat = robust_scale(std::vector<double>(9, -3.0));
    CHECK(flat.low < -3);
    CHECK(flat.high > -3);
    CHECK(tick_text(-1e-15, 0.5) == "0.0");
    CHECK(tick_text(2, 0.25) == "2.0");
    CHECK(tick_text(40, 20) == "40");
}

TEST_CASE("isolines of a cone are closed circles, of a plane straight lines") {
    const FloorMap cone = grid(41, 41, [](int x, int y) { return std::hypot(x - 20, y - 20); });
    const auto circles = isolines(cone, 12.3);
    REQUIRE(circles.size() == 1);
    CHECK(circles[0].front().x == circles[0].back().x);
    CHECK(circles[0].front().y == circles[0].back().y);
    double length = 0;
    for (std::size_t i = 0; i + 1 < circles[0].size(); ++i) {
        CHECK(std::hypot(circles[0][i].x - 20, circles[0][i].y - 20) == Approx(12.3).margin(0.03));
        length += std::hypot(circles[0][i + 1].x - circles[0][i].x,
                             circles[0][i + 1].y - circles[0][i].y);
    }
    CHECK(length == Approx(2 * M_PI * 12.3).epsilon(0.005));

    FloorMap plane = grid(11, 7, [](int x, int y) { return 2.0 * x + y; });
    auto lines = isolines(plane, 9.5);
    REQUIRE(lines.size() == 1);
    for (const GridPoint& p : lines[0]) CHECK(2 * p.x + p.y == Approx(9.5));
    plane.valid[3 * 11 + 3] = 0;  // a hole on the line: it breaks in two
    CHECK(isolines(plane, 9.5).size() == 2);
    CHECK(isolines(grid(1, 9, [](int, int y) { return y; }), 3.5).empty());
    // A saddle: four crossings in one cell, two separate lines.
    CHECK(isolines(grid(2, 2, [](int x, int y) { return x == y ? 1.0 : 0.0; }), 0.4).size() == 2);
}

TEST_CASE("the region above a level has the area that geometry says") {
    const FloorMap plane = grid(11, 7, [](int x, int y) { return 2.0 * x + y; });
    CHECK(area_above(plane, 9.5) == Approx(40.5));  // what lies right of x = (9.5 - y) / 2
    CHECK(area_above(plane, -1) == Approx(60));
    CHECK(region_above(plane, -1).size() == 6);  // a row of whole cells is one piece
    CHECK(region_above(plane, 26.5).empty());
    const FloorMap cone = grid(41, 41, [](int x, int y) { return -std::hypot(x - 20, y - 20); });
    CHECK(area_above(cone, -12.3) == Approx(M_PI * 12.3 * 12.3).epsilon(0.005));
    // A saddle: one piece while its mean lies above the level, two triangles once it does not.
    const FloorMap saddle = grid(2, 2, [](int x, int y) { return x == y ? 1.0 : 0.0; });
    CHECK(region_above(saddle, 0.4).size() == 1);
    CHECK(area_above(saddle, 0.4) == Approx(1 - 2 * 0.4 * 0.4 / 2));
    CHECK(region_above(saddle, 0.6).size() == 2);
    CHECK(area_above(saddle, 0.6) == Approx(2 * 0.4 * 0.4 / 2));
}

TEST_CASE("a map is carried on by half a spacing, and cut to the cells of its points") {
    FloorMap map = grid(5, 4, [](int x, int y) { return 10.0 * x + y; });
    map.valid[1 * 5 + 2] = 0;
    map.value[1 * 5 + 2] = 1e9;  // must not leak into what is drawn
    const FloorMap wide = carried_on(map);
    REQUIRE(wide.nx == 7);
    REQUIRE(wide.ny == 6);
    CHECK(wide.x0 == Approx(map.x0 - map.dx));
    CHECK(wide.y0 == Approx(map.y0 - map.dy));
    for (int iy = 0; iy < 4; ++iy)
        for (int ix = 0; ix < 5; ++ix)
            if (ix != 2 || iy != 1)
                CHECK(wide.value[std::size_t((iy + 1) * 7 + ix + 1)] == 10 * ix + iy);
    CHECK(wide.value[0] == 0);                   // the corner touches one point alone
    CHECK(wide.value[1 * 7] == 0.5);             // the side touches (0, 0) and (0, 1)
    CHECK(wide.value[2 * 7 + 3] == Approx(21));  // the hole: the mean of eight
    double cells = 0;
    for (const GridRectangle& r : valid_cells(map))
        cells += (r.to.x - r.from.x) * (r.to.y - r.from.y);
    CHECK(cells == Approx(19));
    CHECK(valid_cells(map).size() == 5);  // the hole breaks its row in two
}

TEST_CASE("the field is bilinear, and stops half a spacing beyond the points") {
    FloorMap map = grid(20, 15, [](int x, int y) { return 1 + 0.5 * x - 0.25 * y + 0.1 * x * y; });
    const Field field(map);
    const auto v = field.at(0.2 + 0.1 * 7.3, 0.4 + 0.15 * 4.6);
    REQUIRE(v);
    CHECK(*v ==
          Approx(1 + 0.5 * 7.3 - 0.25 * 4.6 + 0.1 * 7.3 * 4.6));  // a bilinear function, exactly
    CHECK(field.at(0.2 - 0.04, 0.4).has_value());
    CHECK_FALSE(field.at(0.2 - 0.06, 0.4).has_value());
    map.valid[4 * 20 + 7] = 0;
    map.value[4 * 20 + 7] = 1e9;  // must not leak into its neighbours
    const Field holed(map);
    CHECK_FALSE(holed.at(0.2 + 0.1 * 7.2, 0.4 + 0.15 * 4.2).has_value());
    REQUIRE(holed.at(0.2 + 0.1 * 7.6, 0.4 + 0.15 * 4.2));
    CHECK(*holed.at(0.2 + 0.1 * 7.6, 0.4 + 0.15 * 4.2) < 20);
    CHECK(holed.largest()->value < 40);
}

TEST_CASE("labels never lie on each other or on a mark") {
    LabelPlacer placer({0, 0, 800, 800});
    std::vector<Rectangle> all;
    std::vector<Pixel> marks;
    for (int i = 0; i < 12; ++i) marks.push_back({300.0 + 22 * (i % 4), 400.0 + 25 * (i / 4)});
    for (const Pixel& m : marks) all.push_back(Rectangle{m.x, m.y, 0, 0}.grown(10));
    for (const Rectangle& r : all) placer.reserve(r);
    int placed = 0;
    for (const Pixel& m : marks) {
        if (const auto place = placer.beside(m, 10, 120, 20)) {
            all.push_back(place->where);
            ++placed;
        }
    }
    CHECK(placed >= 8);
    for (std::size_t i = 12; i < all.size(); ++i) {
        CHECK(Rectangle{0, 0, 800, 800}.holds(all[i]));
        for (std::size_t j = 0; j < i; ++j) CHECK_FALSE(all[i].overlaps(all[j]));
    }
}
