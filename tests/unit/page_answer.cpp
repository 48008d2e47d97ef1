// The page's way to the commands: documents in, documents out, and never an exception.
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

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
