// The report's page: escaping, base64 (RFC 4648), contrast (WCAG 2.1), the spread across seats, and
// what the page must never hold: the network, user text as markup, numbers that are none. How it
// looks and answers in a browser is end_to_end/test_report.py's.
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "report/curve_chart.hpp"
#include "report/html_text.hpp"
#include "report/page_text.hpp"
#include "report/report.hpp"
#include "report/report_charts.hpp"

using namespace boxroom;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

Listening response(const std::vector<Seat>& seats) {
    Listening out;
    out.seats = seats;
    out.level_db = {49, seats.size()};
    for (int i = 0; i <= 48; ++i) {
        const double f = 10 * std::exp2(i / 11.3);
        out.frequency.push_back(f);
        for (std::size_t s = 0; s < seats.size(); ++s)
            out.level_db(i, s) =
                80 + 6 * std::sin(0.09 * f + double(s)) - (i == 30 && s == 0 ? 380 : 0);
        out.seat_average_db.push_back(80 + 5 * std::sin(0.09 * f));
        out.half_space_db.push_back(84 - 1600 / (f * f));
        out.lift_db.push_back(out.seat_average_db.back() - out.half_space_db.back());
        out.target_db.push_back(82);
    }
    out.absolute = true;
    return out;
}

struct Case {
    Scenario scenario;
    Plan plan;
    Decision decision;
    PlanWords words;
    Case() {
        scenario.title = "invented room";
        scenario.acoustics.room.width = 4.1, scenario.acoustics.room.length = 5.2,
        scenario.acoustics.room.height = 2.45;
        scenario.acoustics.room.walls.fill(wall_from_absorption(0.1, scenario.acoustics.air));
        scenario.acoustics.room.wall_description.fill("absorption 0.10");
        scenario.design.driver = {27, 0.45, 0.038, {}, {}, {}, {}, {}, {}, {}, {}, {}};
        scenario.seats = {{"sofa", {2, 3.5, 1.1}, 1}, {"chair", {3, 3.2, 1.1}, 0.5}};
        scenario.source_text = "title = \"invented room\"\n";
        words.recommendation = "Build the 30 L box.";
        words.reason_spot = "Because of the spot.";
        words.reason_box = "Because of the box.";
        words.how_much = "It hardly matters.";
        words.cautions = {"Mains wiring is licensed work."};
        for (int i = 0; i < 15; ++i) {
            const double qtc = 0.5 + 0.05 * i;
            plan.boxes.push_back(
                {qtc, 0.030 - 0.0015 * i, 40, 38, {0.35, 0.36, 0.38}, 3 + qtc, 2 + qtc, i > 0});
        }
        plan.build = 3, plan.half_space_best = 0, plan.in_room_best = 2, plan.textbook = 4;
        for (int i = 0; i < 14; ++i) {
            plan.spots.push_back({i + 1,
                                  {{0.3 + 0.1 * i, 0.4, 0.2}},
                                  {0.3 + 0.1 * i, 0.4, 0},
                                  Facing::back,
                                  {2.04, 9, 3, 2, 84, 22, 5.5 + i}});
            plan.spot_boxes.push_back(plan.boxes[3]);
        }
        plan.spot = plan.spots[0];
        decision.subs = {{"sub",
                          "",
                          plan.boxes[3].volume,
                          plan.boxes[3].qtc,
                          plan.boxes[3].outer,
                          plan.spot.footprint,
                          plan.spot.positions[0],
                          Facing::back,
                          {}}};
        plan.half_space_build = 1, plan.in_room_build = 3;
        plan.at_build = response(scenario.seats);
        plan.at_textbook = plan.at_build;
        FloorMap map;
        map.name = "spread", map.title = "Spread by spot", map.nx = 2, map.ny = 1, map.dx = 0.5;
        map.room_width = 4.1, map.room_length = 5.2;
        map.value = {3, 2}, map.valid = {1, 1}, map.low_is_good = true;
        plan.maps = {map};
    }
    std::string page(Units units = Units::metric) const {
        return html_report({scenario, plan, decision, words, units, "9.9", {"a warning"}});
    }
};

int count(const std::string& text, const std::string& what) {
    int n = 0;
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size()))
        ++n;
    return n;
}

bool has(const std::string& text, const std::string& what) {
    return count(text, what) > 0;
}

/// Contrast ratio of two "#rrggbb" colours (WCAG 2.1, relative luminance).
double contrast(const std::string& a, const std::string& b) {
    const auto luminance = [](const std::string& colour) {
        double sum = 0;
        for (int k = 0; k < 3; ++k) {
            const double v =
                std::stoi(colour.substr(std::size_t(1 + 2 * k), 2), nullptr, 16) / 255.0;
            const double linear = v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
            sum += linear * (k == 0 ? 0.2126 : k == 1 ? 0.7152 : 0.0722);
        }
        return sum;
    };
    const double la = luminance(a), lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

std::vector<nlohmann::json> chart_data(const std::string& page) {
    std::vector<nlohmann::json> out;
    const std::string open = "<script type=\"application/json\">";
    for (auto at = page.find(open); at != std::string::npos; at = page.find(open, at + 1)) {
        const auto from = at + open.size();
        out.push_back(
            nlohmann::json::parse(page.substr(from, page.find("</script>", from) - from)));
    }
    return out;
}

}  // namespace

TEST_CASE("base64 gives the test vectors of RFC 4648, section 10") {
    CHECK(base64("") == "");
    CHECK(base64("f") == "Zg==");
    CHECK(base64("fo") == "Zm8=");
    CHECK(base64("foo") == "Zm9v");
    CHECK(base64("foob") == "Zm9vYg==");
    CHECK(base64("fooba") == "Zm9vYmE=");
    CHECK(base64("foobar") == "Zm9vYmFy");
    CHECK(base64("\xff\xfe\xfd") == "//79");  // bytes above 127 (Python's base64.b64encode)
}

TEST_CASE("text is escaped for elements and attributes alike") {
    CHECK(escape_html("<a b=\"c\">'&'</a>") ==
          "&lt;a b=&quot;c&quot;&gt;&#39;&amp;&#39;&lt;/a&gt;");
    CHECK(escape_html("&lt;") == "&amp;lt;");
    CHECK(escape_html("a\tb\nc") == "a\tb\nc");
    CHECK(escape_html(std::string("a\0b\x1b", 4)) == "a\uFFFDb\uFFFD");
    CHECK(escape_html("\u05e9\u05dc\u05d5\u05dd") == "\u05e9\u05dc\u05d5\u05dd");
    CHECK(shortened_text("\u05e9\u05dc\u05d5\u05dd", 4) == "\u05e9\u05dc\u05d5\u05dd");
    CHECK(shortened_text("\u05e9\u05dc\u05d5\u05dd", 3) == "\u05e9\u05dc\u2026");
    CHECK(decimal(-0.04, 1) == "0.0");
    CHECK(decimal(not_a_number, 1) == "-");
}

TEST_CASE("spread is the weighted standard deviation, population form") {
    // 2 4 4 4 5 5 7 9 has mean 5 and standard deviation 2: the textbook example (from memory);
    // equal values are merged into weights here.
    Listening r;
    r.frequency = {20, 40};
    r.seats = {{"a", {}, 1}, {"b", {}, 3}, {"c", {}, 2}, {"d", {}, 1}, {"e", {}, 1}};
    r.level_db = {2, 5, 1, {2, 4, 5, 7, 9, 70, 70, 70, 70, 70}};
    const auto spread = spread_by_frequency(r);
    REQUIRE(spread.size() == 2);
    CHECK(spread[0] == Approx(2).epsilon(1e-12));
    CHECK(spread[1] == Approx(0).margin(1e-12));
    r.level_db = {1, 5, 1, {2, 4, 5, 7, 9}};
    CHECK(spread_by_frequency(r).empty());
}

TEST_CASE("the page says the answer first and everything after it in order") {
    const std::string page = Case().page();
    std::size_t last = 0;
    for (const char* text : {"<html lang=\"en\"",
                             "Build the 30 L box.",
                             "Because of the spot.",
                             "Because of the box.",
                             "It hardly matters.",
                             "Build this",
                             "Endless floor, same rule",
                             "Textbook",
                             "What the seats hear",
                             "level, dB re 20 uPa at 2.83 V",
                             "How far the seats differ",
                             "What box size changes",
                             "What the room adds",
                             "Box to build against the textbook box",
                             "Spread by spot",
                             "The ten best spots",
                             "The boxes",
                             "The walls",
                             "a warning",
                             "within about 5 dB",
                             "Building Acoustics 13(2), 2006",
                             "Mains wiring",
                             "<details>",
                             "boxroom 9.9"}) {
        const auto at = page.find(text, last);
        INFO(text);
        REQUIRE(at != std::string::npos);
        last = at;
    }
    CHECK(has(page, "<h3><bdi dir=\"auto\">Spread by spot</bdi></h3>"));
    CHECK(has(page, "Best: 2.0 dB at 0.50 m from the left and"));
    CHECK(has(page, ">10</th>"));  // the tenth spot is there, the eleventh is not
    CHECK_FALSE(has(page, ">11</th>"));
    CHECK(has(page,
              "<td class=\"whole\">2.0</td><td class=\"whole\">3.0</td>"));  // 2.04 dB: one decimal
}

TEST_CASE("the page needs nothing from outside and no number is missing") {
    Case c;
    c.plan.at_build.lift_db[5] = not_a_number;
    c.plan.at_build.seat_average_db[7] = -HUGE_VAL;
    c.plan.boxes[2].in_room_balance_db = not_a_number;
    c.plan.spots[1].criteria.level_db = not_a_number;
    const std::string page = c.page();
    for (const char* bad :
         {"http:", "https:", "@import", "<link rel=\"stylesheet", "<iframe", "fetch("})
        CHECK_FALSE(has(page, bad));
    CHECK_FALSE(std::regex_search(page, std::regex("url\\((?!#)")));  // but for its own parts
    CHECK_FALSE(std::regex_search(page, std::regex("[^a-z](nan|inf)[^a-z]", std::regex::icase)));
    const auto data = chart_data(page);  // throws where the JSON is broken
    REQUIRE(data.size() == 5);
    CHECK(count(page, "class=\"plot\" role=\"slider\" tabindex=\"0\"") == 5);
    for (const auto& chart : data)
        for (const auto& curve : chart["curves"]) CHECK(curve["y"].size() == chart["x"].size());
    CHECK(data[3]["curves"][0]["y"][5].is_null());
    CHECK(data[0]["x"][48].get<double>() == Approx(10 * std::exp2(48 / 11.3)));
}

TEST_CASE("a relative response says so on its axis") {
    Case c;
    c.plan.at_build.absolute = false;
    CHECK(has(c.page(), "level, dB re passband at 1 m in half space"));
    CHECK_FALSE(has(c.page(), "20 uPa"));
}

TEST_CASE("a user's text is never markup") {
    const std::string evil =
        "</script></title><script>alert(1)</script>\"onload='x' <!-- "
        "\u202e\u05e9\u05dc\u05d5\u05dd";
    Case clean, c;
    c.scenario.title = evil + std::string(10000, 'w');
    c.scenario.source_text = evil + "</pre>" + evil;
    c.scenario.acoustics.room.wall_description[2] = evil;
    c.scenario.seats[0].name = c.plan.at_build.seats[0].name = evil;
    c.words.recommendation = c.words.reason_spot = c.words.cautions[0] = evil;
    c.plan.maps[0].title = evil;
    c.scenario.warnings = {evil};
    c.plan.maps[0].unit = evil;
    const std::string page = c.page();
    for (const char* markup :
         {"<script", "</script", "<!--", "</title", "</pre", "<header", "</html"})
        CHECK(count(page, markup) == count(clean.page(), markup));
    CHECK_FALSE(has(page, evil));
    CHECK(has(page, escape_html(evil)));
    CHECK(has(page, "<p class=\"title\" dir=\"auto\">"));
    CHECK(has(page, std::string(10000, 'w')));
    CHECK(has(std::string(page_style()), "overflow-wrap: anywhere"));
    CHECK(chart_data(page)[0]["curves"][0]["name"] ==
          evil);  // and the data still say the true name
}

TEST_CASE("lengths and volumes follow the units asked for") {
    Case c;
    c.scenario.source_text.clear();
    const std::string page = c.page(Units::imperial);
    CHECK(has(page, format_volume(c.plan.boxes[3].volume, Units::imperial)));
    CHECK(has(page, "13 ft 5.5 in"));  // 4.10 m = 161.42 in
    // Tables and cards: no metric number is left between two tags.
    CHECK_FALSE(std::regex_search(page, std::regex(">[^<]*[0-9] (L|m)</(td|dd)")));
    CHECK(std::regex_search(c.page(), std::regex(">[^<]*[0-9] (L|m)</(td|dd)")));
}

TEST_CASE("an empty plan still makes a page") {
    const Scenario scenario;
    const Plan plan;
    const std::string page = html_report({scenario, plan, {}, {}, Units::metric, "", {}});
    CHECK(has(page, "</html>"));
    CHECK(chart_data(page).empty());
}

TEST_CASE("lines and text keep the contrast that WCAG 2.1 asks for") {
    REQUIRE(contrast("#000000", "#ffffff") == Approx(21));  // the standard's own largest value
    std::set<std::string> strokes;
    const std::string page = Case().page();
    const std::regex stroke("stroke=\"(#[0-9a-f]{6})\"");
    for (std::sregex_iterator it(page.begin(), page.end(), stroke), end; it != end; ++it)
        strokes.insert((*it)[1]);
    for (std::size_t i = 0; i < 6; ++i) strokes.insert(chart_colour(i));
    CHECK(strokes.size() >= 6);
    for (const std::string& colour : strokes) {
        INFO(colour);
        CHECK(contrast(colour, "#f1ede0") >= 3);  // on the tinted band, the darkest ground
    }
    const std::string css(page_style());
    for (const char* name : {"ink", "soft", "deep"}) {
        std::smatch found;
        REQUIRE(std::regex_search(css, found,
                                  std::regex(std::string("--") + name + ": (#[0-9a-f]{6})")));
        CHECK(contrast(found[1], "#f1ede0") >= 4.5);
    }
    std::set<std::string> looks;
    for (std::size_t i = 0; i < 30; ++i) looks.insert(chart_colour(i) + chart_dash(i));
    CHECK(looks.size() == 30);
}
