// Rooms by elements against another program's finite elements (../shared/reference/fem_L_mixed.json
// and fem_door_live.json: hexahedral spectral elements, 34,048 and 57,728 unknowns, their own error
// 0.003 and 0.03 dB RMS; an excerpt, so that it is there where the tables are not).
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/element_solver.hpp"
#include "solvers/reduced_room.hpp"

using namespace boxroom;

namespace {

using Row = std::vector<std::complex<double>>;

const std::vector<double> frequency{20.022597812550515, 41.21860942374268,  62.656426945644824,
                                    96.62941991695526,  114.91239368382884, 149.02293744881808};

Wall resistance(double r) {
    return {{{r, 0, 0}}};
}

/// Mixed walls: window, studs, brick.
Room l_of_mixed_walls() {
    Room room{5.37, 5.46, 2.43, {}, {}};
    room.plan.outline = {{0, 0, 0},       {5.37, 0, 0},    {5.37, 3.13, 0},
                         {3.58, 3.13, 0}, {3.58, 5.46, 0}, {0, 5.46, 0}};
    const Wall brick = resistance(325416.429768738), ceiling = resistance(18793.02665949872);
    for (const Wall& wall : {resistance(15229.937185331231), Wall{{{5700, 8.3, 1594000}}}, brick,
                             brick, brick, Wall{{{2200, 11, 1800000}}}})
        room.plan.edges.push_back({"", wall, ""});
    room.walls[floor_wall] = room.walls[ceiling_wall] = ceiling;
    return room;
}

/// Brick, a concrete floor, and a door through a 12 cm wall into a hall.
Room bare_room_with_door() {
    Room room{2.8, 3.4, 2.5, {}, {}};
    room.walls.fill(resistance(325416.429768738));
    room.walls[floor_wall] = resistance(160649.82529787268);
    Space hall{"hall", {-1, 3.52, 0}, {4.2, 4.82, 2.5}, {}};
    for (int w = 0; w < 6; ++w) hall.walls.push_back({"", resistance(29555.234301631794), ""});
    room.plan.spaces = {hall};
    room.plan.openings = {{"door", {1.9, 3.4, 0}, {2.7, 3.4, 2.0}, 0}};
    return room;
}

double worst_level(const Room& room, const std::vector<Point>& seats, const Point& source,
                   const std::vector<Row>& reference, bool reduced = false) {
    const std::vector<Point> from{source};
    const auto z = reduced ? ReducedRoom(room, Air{}, 150).transfer<double>(frequency, from, seats)
                           : ElementSolver(room, Air{}, {}).transfer(frequency, from, seats);
    double worst = 0;
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t r = 0; r < seats.size(); ++r)
            worst = std::max(worst,
                             std::abs(20 * std::log10(std::abs(z.at(f, r, 0) / reference[f][r]))));
    return worst;
}

}  // namespace

TEST_CASE("Elements: an L of mixed walls agrees with independent finite elements") {
    const std::vector<Row> reference{
        {{1.137828, -25.676075}, {0.963605, -28.217999}, {-0.056602, -31.319112}},
        {{0.09705, -6.355951}, {-6.305223, 22.124414}, {-22.395433, 78.860618}},
        {{-61.776709, -36.194007}, {-57.986721, -45.78922}, {75.226481, 104.136718}},
        {{58.305764, -55.914818}, {-12.882955, -118.458897}, {27.455726, 44.450353}},
        {{145.345755, -72.632543}, {172.853675, -98.699957}, {-2.091561, -16.445484}},
        {{-202.846457, 182.977874}, {74.937019, 0.603446}, {164.103088, -262.763588}}};
    CHECK(worst_level(l_of_mixed_walls(), {{1.35, 3.6, 1.05}, {2.05, 3.6, 1.05}, {4.6, 2.2, 1.1}},
                      {0.35, 0.4, 0.22}, reference) < 0.15);
    // As the commands solve it, by a reduced basis on longer elements.
    CHECK(worst_level(l_of_mixed_walls(), {{1.35, 3.6, 1.05}, {2.05, 3.6, 1.05}, {4.6, 2.2, 1.1}},
                      {0.35, 0.4, 0.22}, reference, true) < 0.3);
}

TEST_CASE("Elements: a room with a door into a hall agrees with independent finite elements") {
    const std::vector<Row> reference{
        {{110.442101, -201.171585}, {106.744188, -201.925672}, {127.992402, -211.82353}},
        {{-0.234704, -59.434153}, {-0.771477, -88.712648}, {0.756888, -8.929963}},
        {{96.263199, 226.698656}, {-240.589365, -138.904045}, {526.20922, 750.683857}},
        {{16.061629, -70.382075}, {10.627944, 91.895748}, {17.351225, -229.015754}},
        {{-3.361783, 13.556131}, {-3.727226, -67.496739}, {-9.904595, -182.534063}},
        {{420.257866, -320.271747}, {245.374563, -711.467401}, {-342.609274, 139.558394}}};
    CHECK(worst_level(bare_room_with_door(), {{1.4, 2.2, 1.15}, {0.9, 2.8, 1.1}, {2.0, 1.5, 1.2}},
                      {2.45, 0.4, 0.22}, reference) < 0.2);
    CHECK(worst_level(bare_room_with_door(), {{1.4, 2.2, 1.15}, {0.9, 2.8, 1.1}, {2.0, 1.5, 1.2}},
                      {2.45, 0.4, 0.22}, reference, true) < 0.3);
}
