// The file of distributions: faults with their lines; the room file that a drawn room becomes.
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "base/error.hpp"
#include "room_file/room_file.hpp"
#include "survey/drawn_room.hpp"
#include "survey/room_text.hpp"
#include "survey/survey_file.hpp"

using namespace boxroom;

namespace {

const std::string good = R"(rooms = 10
seed = 3
[room]
width = { uniform = ["3 m", "5 m"] }
length = { normal = ["5 m", "1 m"], between = ["4 m", "7 m"] }
height = "2.5 m"
[[house]]
name = "stone"
walls = { absorption = { log_normal = [0.02, 1.5] } }
floor = "concrete"
ceiling = "concrete"
[seats]
per_row = 2
from_back = "1 m"
[[driver]]
name = "ten inch"
fs = "27 Hz"
qts = { normal = [0.42, 0.05], between = [0.3, 0.55] }
vas = "40 L"
[spots]
step = "0.5 m"
[box.sweep]
qtc = [0.5, 1.1]
steps = 7
)";

std::string changed(const std::string& old, const std::string& now) {
    std::string text = good;
    REQUIRE(text.find(old) != std::string::npos);
    return text.replace(text.find(old), old.size(), now);
}

/// Says what is wrong, all of it.
std::string said_of(const std::string& text) {
    try {
        parse_survey_file(text, "s.toml");
    } catch (const Error& error) {
        return error.what();
    }
    return "nothing";
}

}  // namespace

TEST_CASE("What a survey file says is read in SI") {
    const Survey survey = parse_survey_file(good, "s.toml");
    CHECK(survey.rooms == 10);
    CHECK(survey.seed == 3);
    CHECK(survey.length.first == 5);
    CHECK(survey.length.high == 7);
    CHECK(survey.drivers.at(0).vas.first == Approx(0.040));
    CHECK(survey.houses.at(0).walls.absorption.second == 1.5);
    CHECK(survey.counts == std::vector{1, 2, 3, 4});
    CHECK(survey.sweep->steps == 7);
}

TEST_CASE("Distributions that cannot be are refused at their line") {
    const std::pair<std::string, std::string> cases[] = {
        {changed("rooms = 10", "rooms = 0"), "s.toml:1"},
        {changed("rooms = 10", "rooms = 10.5"), "s.toml:1"},
        {changed(R"(["3 m", "5 m"])", R"(["-3 m", "5 m"])"), "s.toml:4"},
        {changed(R"(["3 m", "5 m"])", R"(["5 m", "3 m"])"), "s.toml:4"},
        {changed(R"({ uniform = ["3 m", "5 m"] })", R"({ uniform = ["3 L", "5 L"] })"), "s.toml:4"},
        {changed(R"({ uniform = ["3 m", "5 m"] })", R"("-4 m")"), "s.toml:4"},
        {changed(R"({ uniform = ["3 m", "5 m"] })", R"({ even = ["3 m", "5 m"] })"), "s.toml:4"},
        {changed(R"({ uniform = ["3 m", "5 m"] })", R"({ choice = ["3 m"], weights = [0] })"),
         "s.toml:4"},
        {changed(R"({ uniform = ["3 m", "5 m"] })",
                 R"({ uniform = ["3 m", "5 m"], between = ["3 m", "4 m"] })"),
         "s.toml:4"},
        {changed(R"({ normal = ["5 m", "1 m"], between = ["4 m", "7 m"] })",
                 R"({ normal = ["5 m", "0.1 m"], between = ["8 m", "9 m"] })"),
         "s.toml:5"},
        {changed(R"({ normal = ["5 m", "1 m"])", R"({ normal = ["5 m", "-1 m"])"), "s.toml:5"},
        {changed(R"({ normal = ["5 m", "1 m"])", R"({ normal = ["5 m"])"), "s.toml:5"},
        {changed("log_normal = [0.02, 1.5]", "log_normal = [0.02, 0.5]"), "s.toml:9"},
        {changed(R"(floor = "concrete")", R"(floor = "cheese")"), "s.toml:10"},
        {changed(R"(floor = "concrete")", R"(flor = "concrete")"), "s.toml:10"},
        {changed("per_row = 2", "per_row = 2.5"), "s.toml:13"},
        {changed(R"(from_back = "1 m")", R"(from_back = "7 m")"),
         "s.toml:12"},  // outside every room
        {changed("per_row = 2", "per_row = 8\nspacing = \"3 m\""), "s.toml:12"},
        {changed(", between = [0.3, 0.55]", ""), "s.toml:15"},  // a Qts above the sweep
        {changed("step = \"0.5 m\"", "step = \"0 m\""), "s.toml:21"},
        {changed("steps = 7", "steps = 1"), "s.toml:24"},
        {changed("[spots]", "[sport]"), "s.toml:20"},
        {changed("[spots]", "[search]\nsubs = [2, 3]\n[spots]"), "s.toml:20"},
        {changed("[spots]", "[walls]\nleft = 1\n[spots]"), "s.toml:20"},
    };
    for (const auto& [text, where] : cases) {
        const std::string said = said_of(text);
        INFO(said);
        CHECK(said.find(where + ":") != std::string::npos);
        CHECK(said.find(" -- ") != std::string::npos);
    }
    CHECK(said_of("").find("s.toml:1:") != std::string::npos);
    CHECK(said_of("rooms = 3").find("[room]") != std::string::npos);
}

TEST_CASE("A drawn room becomes a room file that says the same") {
    for (const double l_shaped : {0.0, 1.0}) {
        Survey survey = read_survey_file(BOXROOM_SOURCE_DIR "/rooms/survey.toml");
        survey.l_shaped = l_shaped;
        survey.title = "\"quoted\" \\ and more";
        for (int n = 0; n < 60; ++n) {
            const DrawnRoom room = draw_room(survey, n);
            const Scenario s = parse_room_file(room_text(survey, room), "room.toml");
            CHECK(s.acoustics.room.width == Approx(room.width));
            CHECK(s.acoustics.room.length == Approx(room.length));
            CHECK(s.acoustics.room.is_rectangle() == (l_shaped == 0));
            CHECK(s.design.driver.fs == Approx(room.fs));
            CHECK(s.design.driver.qts == Approx(room.qts));
            CHECK(s.design.driver.vas == Approx(room.vas));
            CHECK(s.seats.size() == room.seats.size());
            CHECK(s.judgement.target.band.low == 30);
            CHECK(s.judgement.uncertainty.draws == 0);
            CHECK(s.wanted.spots.step == Approx(0.5));
            CHECK(s.design.filling == Approx(1.15));
            CHECK(s.design.sweep->low > room.qts);
            const auto surfaces = s.acoustics.room.surfaces();
            int windows = 0, doors = 0;
            for (const NamedWall& wall : surfaces) {
                windows += wall.description.find("window glass, double") != std::string::npos;
                doors += wall.description.find("solid door") != std::string::npos;
            }
            CHECK(windows == 1);
            CHECK(doors == 1);
        }
    }
}
