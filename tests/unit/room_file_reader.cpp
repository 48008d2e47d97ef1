// The room file: what the contract (DESIGN section 5) promises, right and wrong. Expected numbers
// are the file's own, turned to SI by the definitions of the units.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <string>

#include "base/error.hpp"
#include "room_file/room_file.hpp"
#include "solvers/constructions.hpp"

using namespace boxroom;

namespace {

// Line numbers matter below: the text begins with line 1.
const std::string good = R"(title = "test"
[room]
width = "4.10 m"
length = "5.20 m"
height = "2.45 m"
[walls]
left = "brick, plastered"
right = { absorption = 0.05 }
front = { resistance = 2200, mass = 11, stiffness = 1.8e6 }
back = [{ resistance = "9000 Pa s/m" }, { resistance = 2200, mass = "11 kg/m2" }]
floor = { absorption = 0.15 }
ceiling = { absorption = 0.10 }
[driver]
fs = "27 Hz"
qts = 0.45
vas = "38 L"
[box]
volume = "25 L"
filling = 1.15
sweep = { qtc = [0.5, 1.2], steps = 29 }
[[seat]]
name = "a"
at = ["2.05 m", "3.50 m", "1.10 m"]
[[seat]]
name = "b"
at = ["1.05 m", "3.50 m", "1.10 m"]
weight = 0.5
[[sub]]
name = "corner"
at = ["0.35 m", "0.40 m", "0.22 m"]
gain = "-3 dB"
delay = "5 ms"
polarity = "-"
[[keep_out]]
name = "door"
from = ["3.2 m", "4.1 m"]
to = ["4.1 m", "5.2 m"]
[target]
band = ["20 Hz", "120 Hz"]
slope = "-1 dB/oct"
[score]
spread = 2
[analysis]
band = ["10 Hz", "200 Hz"]
per_octave = 24
)";

std::string changed(const std::string& from, const std::string& to) {
    const auto at = good.find(from);
    REQUIRE(at != std::string::npos);
    std::string text = good;
    return text.replace(at, from.size(), to);
}

std::vector<Fault> faults_of(const std::string& text) {
    try {
        parse_room_file(text, "f.toml");
    } catch (const Error& error) {
        return error.faults();
    }
    return {};
}

}  // namespace

TEST_CASE("a right file becomes a scenario in SI") {
    const Scenario s = parse_room_file(good, "f.toml");
    CHECK(s.title == "test");
    CHECK(s.acoustics.room.length == Approx(5.2));
    CHECK(s.design.driver.vas == Approx(0.038));
    CHECK_FALSE(s.design.driver.qes);
    CHECK(s.design.box_volume.value() == Approx(0.025));
    CHECK(s.design.sweep.value().high == Approx(1.2));
    CHECK_FALSE(s.design.volume_sweep);
    REQUIRE(s.acoustics.room.walls[front_wall].branches.size() == 1);
    CHECK(s.acoustics.room.walls[front_wall].branches[0].stiffness == Approx(1.8e6));
    REQUIRE(s.acoustics.room.walls[back_wall].branches.size() == 2);
    CHECK(s.acoustics.room.walls[back_wall].branches[1].mass == Approx(11));
    CHECK(s.acoustics.room.wall_description[left_wall] == "brick, plastered");
    for (const auto& words : s.acoustics.room.wall_description) CHECK_FALSE(words.empty());
    REQUIRE(s.seats.size() == 2);
    CHECK(s.seats[0].weight == 1);
    CHECK(s.seats[1].weight == 0.5);
    CHECK(s.seats[1].at == Point{1.05, 3.5, 1.1});
    REQUIRE(s.placed.subs.size() == 1);
    CHECK(s.placed.subs[0].dial.gain_db == -3);
    CHECK(s.placed.subs[0].dial.delay == Approx(0.005));
    CHECK(s.placed.subs[0].dial.polarity == -1);
    CHECK(s.wanted.keep_outs.at(0).y1 == Approx(5.2));
    CHECK(s.judgement.target.slope == -1);
    CHECK(s.judgement.weights.spread == 2);
    CHECK(s.judgement.weights.unevenness == 0.5);  // the default of DESIGN section 3
    CHECK(s.acoustics.frequency.front() == Approx(10));
    CHECK(s.acoustics.frequency.at(24) == Approx(20));  // 24 points later: one octave
    CHECK(s.acoustics.frequency.back() <= 200 * (1 + 1e-9));
    CHECK(s.source_text == good);
    CHECK(s.warnings.empty());
}

TEST_CASE("the further keys do what they say") {
    std::string text =
        changed("sweep = { qtc = [0.5, 1.2], steps = 29 }",
                "sweep = { volume = [\"10 L\", \"40 L\"], steps = 3 }\nthickness = "
                "\"0.75 in\"\nextra_volume = \"4 L\"\nproportions = [1, 2, 3]\nfeet = "
                "\"2 cm\"\nfacing = \"down\"");
    text +=
        "frequencies = [20, \"25 Hz\", 31.5]\n[map]\nfrequency = \"50 Hz\"\n[spots]\nstep = \"4 "
        "in\"\n"
        "gap = \"1 cm\"\nseat_clearance = \"1 m\"\ntallest = \"60 cm\"\n[air]\nspeed_of_sound = "
        "340\n"
        "density = \"1.2 kg/m3\"\n[amplifier]\npower = \"300 W\"\nload = \"4 ohm\"\n";
    const Scenario s = parse_room_file(text, "f.toml");
    REQUIRE(s.design.volume_sweep.value().size() == 3);
    CHECK(s.design.volume_sweep->at(1) == Approx(0.020));  // geometric middle of 10 L and 40 L
    CHECK(s.design.volume_sweep->at(2) == Approx(0.040));
    CHECK(s.design.enclosure.thickness == Approx(0.01905));
    CHECK(s.design.enclosure.extra_volume == Approx(0.004));
    CHECK(s.design.enclosure.proportion_width == 1);
    CHECK(s.design.enclosure.proportion_height == 2);
    CHECK(s.design.enclosure.proportion_depth == 3);
    CHECK(s.design.enclosure.feet == Approx(0.02));
    CHECK(s.design.enclosure.facing == Facing::down);
    CHECK(s.acoustics.frequency == std::vector<double>{20, 25, 31.5});
    CHECK(s.wanted.map_frequency == 50);
    CHECK(s.wanted.spots.step == Approx(0.1016));
    CHECK(s.wanted.spots.gap == Approx(0.01));
    CHECK(s.wanted.spots.seat_clearance == 1);
    CHECK(s.wanted.spots.tallest == Approx(0.6));
    CHECK(s.acoustics.air.speed_of_sound == 340);
    CHECK(s.acoustics.air.density == 1.2);
    CHECK(s.design.amplifier.power.value() == 300);
    CHECK(s.design.amplifier.load.value() == 4);
}

TEST_CASE("a wrong file is refused with its line and the reason") {
    struct Case {
        const char *from, *to;
        int line;
        const char* word;
    };
    const Case cases[] = {
        {"width = \"4.10 m\"", "width = \"4.10 m\"\nbreadth = 4", 4, "breadth"},
        {"height =", "heigth =", 5, "did you mean height"},
        {"height =", "heigth =", 2, "no height"},
        {"[target]", "[targett]", 38, "did you mean target"},
        {"width = \"4.10 m\"", "width = \"4.10 L\"", 3, "a volume"},
        {"width = \"4.10 m\"", "width = \"0.90 m\"", 3, "between 1 m and 50 m"},
        {"length = \"5.20 m\"", "length = inf", 4, "finite"},
        {"height = \"2.45 m\"", "height = true", 5, "not a number"},
        {"height = \"2.45 m\"", "height = \"-2.45 m\"", 5, "height"},
        {"fs = \"27 Hz\"\n", "", 13, "no fs"},
        {"fs = \"27 Hz\"", "fs = \"27 Hertzes\"", 14, "Hertzes"},
        {"qts = 0.45", "qts = 2.5", 15, "between 0.01 and 2"},
        {"qts = 0.45", "qts = nan", 15, "finite"},
        {"qts = 0.45", "qts = [0.45]", 15, "a list"},
        {"qts = 0.45", "qts = 0.45\nqts = 0.46", 16, "redefine"},
        {"vas = \"38 L\"", "vas = 38", 16, "bare number is SI"},
        {"vas = \"38 L\"", "vas = \"38 L\"\nqes = 0.40", 13, "driver"},
        {"[walls]", "[walls", 6, "TOML"},
        {"\"brick, plastered\"", "\"cheese\"", 7, "cheese"},
        {"\"brick, plastered\"", "\"brick plastered\"", 7, "brick, plastered"},
        {"left = \"brick, plastered\"\n", "", 6, "no left"},
        {"left = \"brick, plastered\"", "left = 3", 7, "made of"},
        {"absorption = 0.05", "absorption = 1.4", 8, "0.95"},
        {"absorption = 0.05", "mass = 11", 8, "no resistance"},
        {"absorption = 0.05", "absorption = 0.05, mass = 11", 8, "mass too"},
        {"mass = 11,", "mass = -11,", 9, "0 kg/m2 or more"},
        {"resistance = \"9000 Pa s/m\"", "resistance = \"9000 ohm\"", 10, "a resistance"},
        {"volume = \"25 L\"", "volume = \"0 L\"", 18, "volume"},
        {"filling = 1.15", "filling = 1.9", 19, "between 1 and 1.4"},
        {"filling = 1.15", "facing = \"north\"", 19, "north"},
        {"qtc = [0.5, 1.2]", "qtc = [1.2, 0.5]", 20, "does not rise"},
        {"qtc = [0.5, 1.2]", "qtc = [0.3, 1.2]", 20, "Qts"},
        {"steps = 29", "steps = 1.5", 20, "whole number"},
        {"qtc = [0.5, 1.2],", "", 20, "either qtc or volume"},
        {"[\"2.05 m\", \"3.50 m\", \"1.10 m\"]", "[\"9 m\", \"3.50 m\", \"1.10 m\"]", 23,
         "outside the room"},
        {"[\"2.05 m\", \"3.50 m\", \"1.10 m\"]", "[\"2.05 m\", \"3.50 m\"]", 23, "list of 3"},
        {"name = \"a\"\n", "", 21, "no name"},
        {"name = \"b\"", "name = \"a\"", 25, "line 22"},
        {"weight = 0.5", "weight = -0.5", 27, "0 or more"},
        {"weight = 0.5", "wieght = 0.5", 27, "did you mean weight"},
        {"\"0.22 m\"]", "\"3 m\"]", 30, "outside the room"},
        {"delay = \"5 ms\"", "delay = \"5 dB\"", 32, "a time"},
        {"polarity = \"-\"", "polarity = \"sideways\"", 33, "sideways"},
        {"[[sub]]", "[sub]", 28, "two brackets"},
        {"to = [\"4.1 m\", \"5.2 m\"]", "to = [\"3.1 m\", \"5.2 m\"]", 37, "no area"},
        {"to = [\"4.1 m\", \"5.2 m\"]", "to = [\"4.1 m\", \"5.3 m\"]", 37, "outside the room"},
        {"[\"20 Hz\", \"120 Hz\"]", "[\"120 Hz\", \"20 Hz\"]", 39, "upside down"},
        {"[\"20 Hz\", \"120 Hz\"]", "[\"5 Hz\", \"120 Hz\"]", 39, "outside the analysed band"},
        {"slope = \"-1 dB/oct\"", "slope = \"0 Hz\"", 40, "a frequency"},
        {"spread = 2", "spread = -2", 42, "0 or more"},
        {"spread = 2", "spread = 0\nunevenness = 0\nbalance = 0\nlevel = 0\nringing = 0", 41,
         "only weights of 0"},
        {"[\"10 Hz\", \"200 Hz\"]", "[\"0.5 Hz\", \"200 Hz\"]", 44, "between 1 Hz and 1000 Hz"},
        {"per_octave = 24", "per_octave = 2", 45, "from 3 to 192"},
        {"per_octave = 24", "frequencies = [20, 31.5, 25]", 45, "do not rise"},
        {"per_octave = 24", "frequencies = [20, 2000]", 45, "1000 Hz"},
        {"per_octave = 24", "frequencies = []", 45, "list of numbers"},
        {"per_octave = 24", "frequencies = [150, 180]", 39, "no analysed frequency"},
    };
    for (const Case& c : cases) {
        CAPTURE(c.from, c.to);
        const auto faults = faults_of(changed(c.from, c.to));
        bool found = false;
        std::string said;
        for (const Fault& fault : faults) {
            CHECK_FALSE(fault.mend.empty());
            const std::string text = fault.what + " -- " + fault.mend;
            said += fault.where + ": " + text + "\n";
            found = found || (fault.where == "f.toml:" + std::to_string(c.line) &&
                              text.find(c.word) != std::string::npos);
        }
        CAPTURE(said, c.line, c.word);
        CHECK(found);
    }
}

TEST_CASE("whole tables may be missing, or everything") {
    for (const char* table : {"room", "walls", "driver"}) {
        const std::string head = std::string("[") + table + "]";
        const auto begin = good.find(head), end = good.find("\n[", begin);
        const auto faults = faults_of(good.substr(0, begin) + good.substr(end + 1));
        REQUIRE(faults.size() == 1);
        CHECK(faults[0].where == "f.toml:1");
        CHECK_THAT(faults[0].what, Catch::Contains(head));
    }
    CHECK_THAT(faults_of("").at(0).what, Catch::Contains("empty"));
    CHECK(faults_of(" \n# nothing\n").size() == 4);  // room, walls, driver, seat
    CHECK(faults_of("\xff\xfe title").at(0).where == "f.toml:1");
    std::string silent = changed("weight = 0.5", "weight = 0");
    silent.insert(silent.find("name = \"a\""), "weight = 0\n");
    CHECK_THAT(faults_of(silent).at(0).what, Catch::Contains("weight 0"));
}

TEST_CASE("all faults come at once, in the order of the file") {
    std::string text = changed("filling = 1.15", "filling = 9");
    text.replace(text.find("fs = \"27 Hz\""), 12, "fs = \"27 m\"");
    text.replace(text.find("width = \"4.10 m\""), 16, "width = \"4.10 L\"");
    const auto faults = faults_of(text);
    REQUIRE(faults.size() == 3);
    CHECK(faults[0].where == "f.toml:3");
    CHECK(faults[1].where == "f.toml:14");
    CHECK(faults[2].where == "f.toml:19");
}

TEST_CASE("a contradictory driver is warned of") {
    // Qes Qms/(Qes + Qms) = 0.6 x 3/3.6 = 0.5, a tenth more than the 0.45 beside it.
    CHECK(parse_room_file(changed("vas = \"38 L\"", "vas = \"38 L\"\nqes = 0.6\nqms = 3"), "f.toml")
              .warnings.size() >= 1);
}

TEST_CASE("files on the disk") {
    try {
        read_room_file("/no/such/room.toml");
        FAIL("a missing file was read");
    } catch (const Error& error) {
        CHECK(error.faults().at(0).where == "/no/such/room.toml");
    }
    CHECK_THROWS_AS(read_room_file(BOXROOM_TEST_DIR), Error);
    const std::string path = std::string(BOXROOM_TEST_DIR) + "/room_file_test.toml";
    std::ofstream(path) << good;
    CHECK(read_room_file(path).source_text == good);
}

TEST_CASE("the starter file is right, and so is each thing it leaves as a remark") {
    const Units units = GENERATE(Units::metric, Units::imperial);
    const std::string text = starter_room_file(units);
    CAPTURE(text);
    const Scenario s = parse_room_file(text, "starter.toml");
    CHECK(s.warnings.empty());
    // One system of units, each remark in its column.
    if (units == Units::imperial)
        for (const char* unit : {" m\"", " mm\"", " L\"", " m2\"", " cm2\""})
            for (auto at = text.find(unit, text.find("title =")); at != std::string::npos;
                 at = text.find(unit, at + 1))
                CHECK(text.substr(at - 1, 1) == "T");  // the force factor's T m has no other unit
    CHECK(text.find("{{") == std::string::npos);
    for (const std::string key : {"width", "vas", "sd", "xmax", "thickness", "feet"}) {
        CAPTURE(key);
        const std::size_t at = text.find('\n' + key + " =") + 1;
        CHECK(text.find('#', at) - at == 33);
    }
    CHECK(s.seats.size() == 2);
    CHECK_THAT(text, Catch::Contains("#   \"concrete\""));
    // Remarks that show keys of their table, taken in one at a time.
    for (const char* remark :
         {"# le =", "# bl =", "# mms =", "# tallest =", "# frequencies =", "# cone_load ="}) {
        std::string used = text;
        REQUIRE(used.find(remark) != std::string::npos);
        used.erase(used.find(remark), 2);
        CAPTURE(remark);
        CHECK(parse_room_file(used, "starter.toml").warnings.empty());
    }
    // Whole tables that it leaves as remarks.
    std::string used = text;
    const auto from = used.find("# [[block]]"), to = used.find("# From the driver's");
    REQUIRE(from < to);
    std::string tables = used.substr(from, to - from);
    for (std::size_t at = 0; (at = tables.find("# A room", at)) != std::string::npos;)
        tables.erase(at, tables.find("# [[", at) - at);
    for (std::size_t at = 0; (at = tables.find("# ", at)) != std::string::npos; at += 2)
        if (at == 0 || tables[at - 1] == '\n') tables.erase(at, 2);
    used.replace(from, to - from, tables);
    CAPTURE(tables);
    const RoomPlan plan = parse_room_file(used, "starter.toml").acoustics.room.plan;
    CHECK(plan.blocks.size() == 1);
    CHECK(plan.spaces.size() == 1);
    REQUIRE(plan.openings.size() == 1);
    CHECK(plan.openings[0].space == 0);
}

TEST_CASE("an opening is open, shut or either, and a door in all three") {
    const auto with = [](const std::string& state) {
        return parse_room_file(
            good +
                "[[opening]]\nname = \"door\"\nfrom = [\"0 m\", \"1 m\", \"0 m\"]\n"
                "to = [\"0 m\", \"2 m\", \"2 m\"]\n" +
                state,
            "f.toml");
    };
    for (const char* state :
         {"", "state = \"open\"\n", "state = \"either\"\n", "state = \"shut\"\n"}) {
        CAPTURE(state);
        const Scenario s = with(state);
        const bool shut = std::string(state).find("shut") != std::string::npos;
        REQUIRE(s.acoustics.room.plan.openings.size() == (shut ? 0 : 1));
        if (!shut)
            CHECK(s.acoustics.room.plan.openings[0].either ==
                  (std::string(state).find("either") != std::string::npos));
        REQUIRE(s.wanted.doors.size() == 1);
        CHECK(s.wanted.doors[0].x == 0);
        CHECK(s.wanted.doors[0].y == Approx(1.5));
    }
    CHECK_THROWS_WITH(
        with("state = \"ajar\"\n"),
        Catch::Contains("[[opening]] state is \"ajar\"") && Catch::Contains("\"either\""));
}

TEST_CASE("a wall of parts is their mean by area, the first taking the rest") {
    const std::string parts =
        "[\"brick, plastered\", { made_of = \"window glass, double\", area = \"2.1 m2\" }, "
        "{ absorption = 0.1, area = 1.8 }]";
    const Scenario s = parse_room_file(changed("\"brick, plastered\"", parts), "f.toml");
    const Air& air = s.acoustics.air;
    const auto y = [&](const Wall& wall) { return wall.admittance(2 * 3.14159 * 50, air); };
    const auto named = [&](const char* name) {
        return y(wall_from_construction(find_construction(name), air));
    };
    // The left wall is 5.20 x 2.45 m.
    const double area = 5.20 * 2.45;
    const auto mean =
        ((area - 3.9) * named("brick, plastered") + 2.1 * named("window glass, double") +
         1.8 * y(wall_from_absorption(0.1, air))) /
        area;
    CHECK(std::abs(y(s.acoustics.room.walls[left_wall]) - mean) < 1e-12 * std::abs(mean));
    CHECK(s.acoustics.room.wall_description[left_wall] ==
          "brick, plastered with window glass, double (2.1 m2) and absorption 0.1 (1.8 m2)");
    // Without a name and an area an array is what it was: branches in parallel.
    CHECK(s.acoustics.room.walls[back_wall].branches.size() == 2);
    // In a floor plan: edge_3 is 5 m long (3, 4, 5), 2.45 m high.
    std::string plan = changed("width = \"4.10 m\"\nlength = \"5.20 m\"",
                               "floor_plan = [[0, 0], [4, 0], [4, 3], [7, 7], [0, 7]]");
    const auto begin = plan.find("left ="), end = plan.find("floor = {");
    plan.replace(begin, end - begin,
                 "edges = \"concrete\"\nedge_3 = [\"concrete\", { absorption = 0.3, area = 5 }]\n");
    const Scenario slanted = parse_room_file(plan, "f.toml");
    const auto edge = y(slanted.acoustics.room.plan.edges[2].wall);
    const auto wanted =
        ((5 * 2.45 - 5) * named("concrete") + 5.0 * y(wall_from_absorption(0.3, air))) / (5 * 2.45);
    CHECK(std::abs(edge - wanted) < 1e-12 * std::abs(wanted));
}

TEST_CASE("a wall of parts that cannot be is refused with its line") {
    const auto said = [](const std::string& parts) {
        const auto faults = faults_of(changed("\"brick, plastered\"", parts));
        REQUIRE_FALSE(faults.empty());
        for (const Fault& fault : faults) CHECK(fault.where == "f.toml:7");
        return faults[0].what + " -- " + faults[0].mend;
    };
    const auto with = [&](const std::string& part) { return said("[\"concrete\", " + part + "]"); };
    CHECK_THAT(with("{ made_of = \"solid door\", area = \"13 m2\" }"), Catch::Contains("12.74 m2"));
    CHECK_THAT(with("{ made_of = \"solid door\", area = \"-1 m2\" }"),
               Catch::Contains("above 0 m2"));
    CHECK_THAT(with("{ made_of = \"solid door\", area = \"1 m\" }"), Catch::Contains("an area"));
    CHECK_THAT(said("[{ absorption = 0.1 }, { made_of = \"solid door\" }, \"concrete\"]"),
               Catch::Contains("no area"));
    CHECK_THAT(with("{ made_of = \"solid dor\", area = 1 }"), Catch::Contains("solid door"));
    CHECK_THAT(with("{ made_of = 3, area = 1 }"), Catch::Contains("text"));
    CHECK_THAT(with("{ area = 1 }"), Catch::Contains("nothing"));
    CHECK_THAT(with("{ made_of = \"solid door\", absorption = 0.1, area = 1 }"),
               Catch::Contains("absorption too"));
    CHECK_THAT(with("{ made_of = \"solid door\", area = 1, colour = 3 }"),
               Catch::Contains("colour"));
    CHECK_THAT(with("\"solid door\""), Catch::Contains("without an area"));
    CHECK_THAT(with("3"), Catch::Contains("without an area"));
    CHECK_THAT(said("[{ absorption = 0.1, area = 1 }, { absorption = 0.2, area = 2 }]"),
               Catch::Contains("it takes the rest"));
    // Surfaces that are several walls at once have no area to share.
    std::string plan = changed("width = \"4.10 m\"\nlength = \"5.20 m\"",
                               "floor_plan = [[0, 0], [4, 0], [4, 3], [7, 7], [0, 7]]");
    const auto begin = plan.find("left ="), end = plan.find("floor = {");
    plan.replace(begin, end - begin, "edges = [\"concrete\", { absorption = 0.3, area = 5 }]\n");
    CHECK_THAT(faults_of(plan).at(0).what, Catch::Contains("no single wall"));
}

TEST_CASE("what stands in the room") {
    const auto with = [](const std::string& contents) {
        return changed("height = \"2.45 m\"", "height = \"2.45 m\"\ncontents = " + contents);
    };
    const auto of = [&](const std::string& contents) {
        return parse_room_file(with(contents), "f.toml").acoustics.room.contents;
    };
    CHECK(parse_room_file(good, "f.toml").acoustics.room.contents.empty());
    CHECK(of("\"bare\"").empty());
    // Of each named kind so much a square metre of floor (solvers/contents), here 4.10 x 5.20 m.
    CHECK(of("\"furnished\"").area ==
          Approx(find_named_contents("furnished").area_per_floor * 4.10 * 5.20));
    CHECK(of("\"soft\"").area > of("\"furnished\"").area);
    CHECK(of("{ absorption_area = \"6 m2\" }").area == 6);
    CHECK(of("{ absorption_area = \"6 m2\" }").q == 0);
    for (const auto& [text, word] : std::initializer_list<std::pair<const char*, const char*>>{
             {"\"furnishd\"", "furnished"},
             {"3", "text"},
             {"{ absorption_area = \"-1 m2\" }", "0 m2"},
             {"{ absorption_area = \"6 m\" }", "an area"},
             {"{ }", "no absorption_area"},
             {"{ absorption_area = 6, weight = 3 }", "weight"}}) {
        CAPTURE(text);
        const auto faults = faults_of(with(text));
        REQUIRE(faults.size() == 1);
        CHECK(faults[0].where == "f.toml:6");
        CHECK_THAT(faults[0].what + faults[0].mend, Catch::Contains(word));
    }
    const std::string hall = good +
                             "[[space]]\nname = \"hall\"\nfrom = [5, 0, 0]\nto = [7, 5, 2]\n"
                             "walls = { absorption = 0.1 }\ncontents = \"soft\"\n";
    CHECK_THAT(faults_of(hall).at(0).what, Catch::Contains("cannot have contents"));
}
