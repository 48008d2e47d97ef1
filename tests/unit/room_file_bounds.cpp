// What no room needs is refused before the parser sees it; what people write is not.
#include <catch2/catch.hpp>

#include "base/error.hpp"
#include "room_file/room_file.hpp"
#include "room_file/toml_bounds.hpp"

using namespace boxroom;

namespace {

std::string times(std::size_t count, const std::string& what) {
    std::string out;
    for (std::size_t i = 0; i < count; ++i) out += what;
    return out;
}

std::string refused(const std::string& text) {
    try {
        require_within_bounds(text, "f");
    } catch (const Error& error) {
        CHECK_FALSE(error.faults().at(0).mend.empty());
        return error.faults()[0].where + ' ' + error.faults()[0].what;
    }
    return "";
}

}  // namespace

TEST_CASE("too deep, too long, too large: with the line") {
    CHECK_THAT(refused("x = 1\n" + times(30'000, "a.") + "a = 1\n"), Catch::StartsWith("f:2 "));
    CHECK_THAT(refused("[" + times(30'000, "a.") + "a]"), Catch::Contains("dots"));
    CHECK_THAT(refused(times(30'000, "\"a\".") + "a = 1\n"), Catch::Contains("dots"));
    CHECK_THAT(refused("\n\nx = " + times(30'000, "[")), Catch::StartsWith("f:3 "));
    CHECK_THAT(refused("x = " + times(30'000, "{a=")), Catch::Contains("brackets"));
    CHECK_THAT(refused(times(300, "a") + " = 1"), Catch::Contains("word"));
    CHECK_THAT(refused("x = \"" + times(30'000, "a") + '"'), Catch::Contains("text"));
    CHECK_THAT(refused("x = \"\"\"\n" + times(30'000, "a\n") + "\"\"\""),
               Catch::StartsWith("f:1 "));
    CHECK_THAT(refused("x = 'a\n\ny = " + times(30, "[")),
               Catch::StartsWith("f:3 "));  // not closed
    CHECK_THAT(refused(times(5'000'000, " ")), Catch::Contains("MB"));
}

TEST_CASE("brackets and dots in texts, remarks and numbers count for nothing") {
    CHECK(refused("x = \"" + times(300, "[.{\\\"") + "\"").empty());
    CHECK(refused("x = '" + times(300, "[.{") + "' # " + times(3000, "[.'\"")).empty());
    CHECK(refused("x = '''" + times(300, "[.'\n") + "'''").empty());
    CHECK(refused("x = \"\"\"" + times(300, "[.\"\n") + "\"\"\"").empty());
    CHECK(refused("x = [" + times(3000, "[1.5, 2.5],") + "]").empty());
    CHECK(refused(times(3000, "x.y = [1.5]\n")).empty());
    for (const Units units : {Units::metric, Units::imperial})
        CHECK(refused(starter_room_file(units)).empty());
}

TEST_CASE("of very many faults the first are told") {
    std::string text;
    for (int i = 0; i < 2000; ++i) text += "k" + std::to_string(i) + " = 1\n";
    try {
        parse_room_file(text, "f");
        FAIL("read");
    } catch (const Error& error) {
        CHECK(error.faults().size() == 101);
        CHECK_THAT(error.faults().back().what, Catch::Contains("1904 more"));  // 4 tables missing
    }
}
