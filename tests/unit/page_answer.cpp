// The page's way to the commands: documents in, documents out, and never an exception.
#include <fmt/format.h>
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "live/flat_scenario.hpp"
#include "live/live_room.hpp"
#include "page/page_answer.hpp"

using namespace boxroom;
using Json = nlohmann::json;

namespace {

Json ask(const Json& request) {
    return Json::parse(page_answer(request.dump(), [](const std::string&, double) {}));
}

std::string demo() {
    std::ifstream file(BOXROOM_SOURCE_DIR "/rooms/demo.toml");
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

/// A room with one seat, one box and a table of what was measured there.
std::string small_room(const std::string& wall, const std::string& floor = R"(
width = 3.1
length = 3.9)") {
    return "[room]" + floor + R"(
height = 2.4
[walls]
left = )" + wall +
           R"(
right = "brick, plastered"
front = "brick, plastered"
back = "timber frame, plastered"
floor = "wood floor on joists"
ceiling = "timber frame, plastered"
[driver]
fs = 27
qts = 0.45
vas = "38 L"
[box]
volume = "25 L"
[[seat]]
name = "chair"
at = [1.9, 2.6, 1.1]
[[sub]]
name = "sub"
at = [0.35, 0.4, 0.25]
[[recording]]
curve = "chair.csv"
seat = "chair"
[target]
band = ["30 Hz", "70 Hz"]
[analysis]
band = ["24 Hz", "90 Hz"]
per_octave = 48
[spots]
step = "0.5 m"
)";
}

/// What the room with this wall gives at its seat, 5 dB louder, as a table.
std::string table_of(const std::string& wall) {
    const std::string text = small_room(wall);
    const Json heard = ask({{"command", "listen"},
                            {"text", text.substr(0, text.find("[[recording]]")) +
                                         text.substr(text.find("[target]"))}})["answer"];
    std::string table = "frequency_hz,level_db\n";
    for (std::size_t f = 0; f < heard["frequency_hz"].size(); ++f)
        table += heard["frequency_hz"][f].dump() + "," +
                 std::to_string(heard["seats"][0]["level_db"][f].get<double>() + 5) + "\n";
    return table;
}

}  // namespace

TEST_CASE("the sample room can be looked at, checked, changed and planned from") {
    for (const char* units : {"metric", "imperial"}) {
        const std::string text = ask({{"command", "start"}, {"units", units}})["text"];
        const Json look = ask({{"command", "look"}, {"text", text}});
        CHECK(look["document"]["driver"]["qts"] == 0.42);
        const Json check = ask({{"command", "check"}, {"text", text}, {"units", units}});
        CHECK(check["status"] == 0);
        CHECK(look["document"]["seat"].size() == 2);
    }
}

TEST_CASE("lines lead from a fault to the value that has it") {
    std::string text = demo();
    text.replace(text.find("qts = "), 6, "qts = -");
    const Json check = ask({{"command", "check"}, {"text", text}});
    REQUIRE(check["status"] == 2);
    const Json look = ask({{"command", "look"}, {"text", text}});
    CHECK(check["faults"][0]["line"] == look["lines"]["driver.qts"]);
    CHECK_FALSE(check["faults"][0]["mend"].get<std::string>().empty());
}

TEST_CASE("an edit changes its value, in the unit that stands there, and nothing else") {
    const std::string text = demo();
    const Json made = ask({{"command", "edit"},
                           {"text", text},
                           {"edits",
                            {{{"path", "room.width"}, {"metres", 4.25}},
                             {{"path", "title"}, {"toml", "\"Attic\""}}}}});
    const std::string now = made["text"];
    const Json look = ask({{"command", "look"}, {"text", now}});
    CHECK(look["document"]["room"]["width"] == "4.25 m");
    CHECK(look["document"]["title"] == "Attic");
    // Line by line the same but for these two.
    std::istringstream before(text), after(now);
    int differ = 0;
    for (std::string a, b; std::getline(before, a) && std::getline(after, b);) differ += a != b;
    CHECK(differ == 2);
}

TEST_CASE("a seat is added and taken away again") {
    const Json more =
        ask({{"command", "edit"},
             {"text", demo()},
             {"edits",
              {{{"path", "seat"},
                {"add", {"name = \"one more\"", "at = [\"2 m\", \"2 m\", \"1.1 m\"]"}}}}}});
    const Json floor = ask({{"command", "look"}, {"text", more["text"]}});
    const std::size_t seats = floor["document"]["seat"].size();
    const std::string last = "seat[" + std::to_string(seats - 1) + "]";
    CHECK(floor["document"]["seat"][seats - 1]["name"] == "one more");
    CHECK(floor["lengths"][last + ".at[0]"] == 2.0);
    const Json less = ask({{"command", "edit"},
                           {"text", more["text"]},
                           {"edits", {{{"path", "seat"}, {"remove", seats - 1}}}}});
    CHECK(ask({{"command", "look"}, {"text", less["text"]}})["document"]["seat"].size() ==
          seats - 1);
}

TEST_CASE("lengths are those that can be read, whatever else is wrong") {
    const Json look =
        ask({{"command", "look"},
             {"text", "[room]\nwidth = \"13 ft 5 in\"\nlength = 5\nheight = \"tall\"\n"}});
    // 13 ft 5 in = 161 in of 0.0254 m (exact by definition).
    CHECK(look["lengths"]["room.width"].get<double>() == Approx(161 * 0.0254));
    CHECK(look["lengths"]["room.length"] == 5.0);
    CHECK_FALSE(look["lengths"].contains("room.height"));
}

TEST_CASE("boxes side by side follow Small's relations") {
    // fc/fs = Qtc/Qts = sqrt(1 + Vas/Vab) (Small, JAES 20(10) 1972).
    const Json boxes = ask({{"command", "box"}, {"text", demo()}, {"volume_m3", 0.02}});
    const Json& one = boxes["answer"]["boxes"][0];
    const Json driver = ask({{"command", "look"}, {"text", demo()}})["document"]["driver"];
    CHECK(one["volume_l"].get<double>() == Approx(20));
    const double fs = std::stod(driver["fs"].get<std::string>());
    CHECK(one["fc_hz"].get<double>() / fs ==
          Approx(one["qtc"].get<double>() / driver["qts"].get<double>()));
    CHECK(boxes["answer"]["boxes"].size() == 3);
    CHECK(boxes["files"]["response.svg"].get<std::string>().find("<svg") != std::string::npos);
}

TEST_CASE("a table that came with the room corrects it") {
    const std::string told = "\"brick, plastered\"", text = small_room(told);
    const std::string table = table_of("{ absorption = 0.3 }");
    const auto with = [&](const char* command, const std::string& room, const Json& files) {
        return ask({{"command", command}, {"text", room}, {"files", files}});
    };
    const Json fit = with("fit", text, {{"chair.csv", table}});
    REQUIRE(fit["status"] == 0);
    const Json& seat = fit["answer"]["seats"][0];
    CHECK(seat["after_db"].get<double>() < 0.5 * seat["before_db"].get<double>());
    CHECK(fit["words"].size() >= 3);
    CHECK(fit["misfits"].get<std::string>().find("chair") != std::string::npos);
    CHECK(fit["files"]["fit_1.svg"].get<std::string>().find("<svg") != std::string::npos);
    // The corrected text is a room that predicts what was measured, and keeps its recording.
    const Json again = with("listen", fit["files"]["fitted.toml"], {{"chair.csv", table}});
    REQUIRE(again["status"] == 0);
    CHECK(again["answer"]["recordings"][0]["apart_db"].get<double>() ==
          Approx(seat["after_db"].get<double>()).margin(0.2));

    CHECK(with("fit_time", text, {{"chair.csv", table}})["seconds"].get<double>() > 0);
    const std::string corners = small_room(told, R"(
floor_plan = [[0, 0], [3.1, 0], [3.1, 3.9], [0.6, 3.9], [0.6, 3.3], [0, 3.3]])");
    std::string edges = corners;
    edges.erase(edges.find("left ="), edges.find("floor = \"wood") - edges.find("left ="));
    edges.insert(edges.find("floor = \"wood"), "edges = \"brick, plastered\"\n");
    CHECK(with("fit_time", edges, {{"chair.csv", table}})["seconds"].is_null());
    // What is no table, and a table that did not come.
    const Json wrong = with("fit", text, {{"chair.csv", "level,what\nloud,very\n"}});
    REQUIRE(wrong["status"] == 2);
    CHECK(wrong["faults"][0]["where"].get<std::string>().starts_with("chair.csv:1"));
    CHECK(with("fit", text, Json::object())["status"] == 2);
}

TEST_CASE("whatever is asked is answered with a status") {
    for (const std::string& request :
         {std::string(), std::string("{"), std::string("[]"), std::string(R"({"command": 3})"),
          std::string(R"({"command": "plan"})"), std::string(R"({"command": "fly", "text": ""})"),
          Json{
              {"command", "edit"}, {"text", demo()}, {"edits", {{{"path", "a..b"}, {"toml", "1"}}}}}
              .dump(),
          Json{{"command", "edit"},
               {"text", demo()},
               {"edits", {{{"path", "seat"}, {"remove", 99}}}}}
              .dump(),
          Json{{"command", "edit"},
               {"text", demo()},
               {"edits", {{{"path", "title"}, {"toml", "\"open"}}}}}
              .dump(),
          Json{{"command", "look"}, {"text", std::string(70000, 'a') + " = 1"}}.dump(),
          Json{{"command", "check"}, {"text", "title = \"\x01\xff\""}}.dump(
              -1, ' ', false, Json::error_handler_t::replace)}) {
        INFO(request.substr(0, 80));
        const Json answer = Json::parse(page_answer(request, [](const std::string&, double) {}));
        CHECK(answer["status"].is_number());
        CHECK((answer["status"] != 2 || answer["faults"].size() > 0));
    }
}

TEST_CASE("what a plan has learnt of a room is known to the live answer in its report") {
    const std::string bare = small_room("\"brick, plastered\"");
    const std::string room =
        bare.substr(0, bare.find("[[recording]]")) + bare.substr(bare.find("[target]")) + R"(
[[block]]
name = "wardrobe"
from = [0, 3.2, 0]
to = [1.2, 3.9, 2]
surface = "plasterboard on studs"
)";
    std::string learnt;
    const Json request{{"command", "plan"}, {"text", room}, {"subs", 1}};
    const Json answer = Json::parse(page_answer(
        request.dump(), [](const std::string&, double) {}, &learnt));
    REQUIRE(answer["status"] == 0);
    const std::string report = answer["files"]["report.html"];
    const std::string mark = "id=\"live-data\">";
    const auto from = report.find(mark) + mark.size();
    const Json data = Json::parse(report.substr(from, report.find("</script>", from) - from));
    CHECK(data["learns"] == true);
    std::vector<double> numbers;
    for (const Json& one : data["numbers"])
        numbers.push_back(one.is_null() ? std::nan("") : one.get<double>());
    LiveRoom live(scenario_from_flat(numbers));
    CHECK(live.take(learnt));
    CHECK_FALSE(live.answer().draft);
    // As `listen` says of the box where the page has it: at its distance from the walls to the last
    // digit, while the plan gives places to the centimetre.
    const LiveAnswer alive = live.answer();
    const Point at = alive.standing.front().cone;
    std::string there = room;
    const auto with = [&there](const std::string& was, const std::string& now) {
        there.replace(there.find(was), was.size(), now);
    };
    with("at = [0.35, 0.4, 0.25]", fmt::format("at = [{}, {}, {}]", at.x, at.y, at.z));
    with("volume = \"25 L\"", fmt::format("volume = \"{} L\"", 1e3 * alive.box.volume));
    const Json heard = ask({{"command", "listen"}, {"text", there}});
    REQUIRE(heard["status"] == 0);
    CHECK(alive.at_seats.criteria.level_db ==
          Approx(heard["answer"]["level_db"].get<double>()).margin(1e-4));
    CHECK(alive.at_seats.criteria.level_db ==
          Approx(answer["answer"]["level_db"].get<double>()).margin(0.05));
}
