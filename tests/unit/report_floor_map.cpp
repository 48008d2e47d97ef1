// The floor maps of the report: SVG that a browser reads, painted in the colours that the values
// say.
#include <catch2/catch.hpp>

#include <cmath>
#include <regex>

#include "picture/colour_map.hpp"
#include "report/floor_map_chart.hpp"

using namespace boxroom;

namespace {

struct Case {
    Scenario scenario;
    Plan plan;
    Decision decision;
    FloorMap map;

    Case() {
        Room& room = scenario.acoustics.room;
        room.width = 4, room.length = 5, room.height = 2.5;
        map.name = "level", map.title = "Level", map.quantity = "level";
        map.room_width = 4, map.room_length = 5;
        map.nx = 41, map.ny = 51, map.dx = map.dy = 0.1;
        for (int iy = 0; iy < map.ny; ++iy)
            for (int ix = 0; ix < map.nx; ++ix) map.value.push_back(80 + ix * 0.25);
        map.valid.assign(map.value.size(), 1);
    }
    std::string figure(Units units = Units::metric) const {
        return floor_map_figure(map, {scenario, plan, decision, {}, units, "9.9", {}});
    }
};

/// Area of the closed paths in `d`, whose numbers are a place and then steps from it [the SVG's
/// units squared].
double area(const std::string& d) {
    double sum = 0;
    const std::regex piece("M(-?[0-9]+) (-?[0-9]+)l([^z]*)z");
    for (auto it = std::sregex_iterator(d.begin(), d.end(), piece); it != std::sregex_iterator();
         ++it) {
        std::vector<double> xs{std::stod((*it)[1])}, ys{std::stod((*it)[2])};
        std::istringstream steps((*it)[3]);
        for (double dx = 0, dy = 0; steps >> dx >> dy;) {
            xs.push_back(xs.back() + dx);
            ys.push_back(ys.back() + dy);
        }
        for (std::size_t i = 0; i < xs.size(); ++i) {
            const std::size_t next = (i + 1) % xs.size();
            sum += (xs[i] * ys[next] - xs[next] * ys[i]) / 2;
        }
    }
    return sum / 100;  // tenths
}

}  // namespace

TEST_CASE("every band of a map covers what lies above its lower edge, in its colour") {
    const Case c;
    const std::string page = c.figure();
    const std::regex band("<path fill=\"(#[0-9a-f]{6})\" d=\"([^\"]*)\"/>");
    std::vector<std::pair<std::string, double>> bands;
    for (auto it = std::sregex_iterator(page.begin(), page.end(), band);
         it != std::sregex_iterator(); ++it)
        bands.emplace_back((*it)[1], area((*it)[2]));
    // 80 to 90 dB in steps of a fifth of 2 dB (2nd to 98th percentile, widened to round steps).
    REQUIRE(bands.size() > 20);
    const double scale = 340.0 / 4;  // the plan is 340 units wide
    // The ground of all values, half a spacing more than the room all round.
    CHECK(bands[0].second == Approx(4.1 * 5.1 * scale * scale).epsilon(0.001));
    const double step = 10.0 / double(bands.size());
    for (std::size_t i = 1; i < bands.size(); ++i) {
        // The value rises along x alone: x = (level - 80) / 2.5 m.
        const double level = 80 + step * double(i), right = 4 - (level - 80) / 2.5;
        INFO(level << " dB");
        CHECK(bands[i].second ==
              Approx((right + 0.1) * 5.2 * scale * scale).epsilon(0.05).margin(1));
        CHECK(bands[i].second < bands[i - 1].second);
        CHECK(bands[i].first != bands[i - 1].first);
    }
    CHECK(std::regex_search(page, std::regex("class=\"line( light)?\"")));
}

TEST_CASE("a map says in words where it is best, in either units") {
    Case c;
    CHECK(c.figure().find("Lowest: 80.0 dB at 0.00 m from the left and 0.00 m from the front wall; "
                          "highest: 90.0 dB at 4.00 m") != std::string::npos);
    CHECK(c.figure(Units::imperial).find(" m from") == std::string::npos);
    c.map.low_is_good = true;
    CHECK(c.figure().find("Best: 80.0 dB") != std::string::npos);
    CHECK(c.figure().find("better") != std::string::npos);
    c.map.valid.assign(c.map.valid.size(), 0);
    CHECK(c.figure().find("No box can stand anywhere.") != std::string::npos);
}

TEST_CASE("names in a map are text, never markup") {
    Case c;
    c.map.title = c.map.name = "<b>\"'";
    c.map.subs = {{"<script>", {1, 1, 0.2}}};
    c.map.seats = {{"<i>", {2, 2, 1}}};
    const std::string page = c.figure();
    for (const char* alive : {"<b>", "<script>", "<i>"})
        CHECK(page.find(alive) == std::string::npos);
    CHECK(page.find("&lt;script&gt;") != std::string::npos);
}
