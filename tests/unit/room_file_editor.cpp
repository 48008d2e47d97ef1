#include "room_file/room_file_editor.hpp"

#include <catch2/catch.hpp>

#include "base/error.hpp"
#include "room_file/room_file.hpp"

using namespace boxroom;

namespace {

/// Comments, a name beyond ASCII before a place on the same line, inline tables, odd spacing.
const std::string text = R"(title = "Stube, groß"   # with a comment
[room]
width = "4 m"
length = "5 m"
height = "2.5 m"
[walls]
left = "concrete"
right = "concrete"
front = "concrete"
back = "concrete"
floor = "concrete"
ceiling = "concrete"
[driver]
fs = "27 Hz"
qts = 0.45
vas = "38 L"
[box]      # the box
volume = "25 L"     # net
filling = 1.15
[[seat]]
name = "Großmutters Stühlchen"
at = ["2 m",   # from the left
      "3.5 m", "1.1 m"]  # keep this
[[seat]]
at = [1, 3, 1.2]
name = "bench"
[[sub]]
name = "corner"
at = ["0.35 m", "0.40 m", "0.22 m"]
gain = "-2 dB"
)";

const std::vector<Seat> seats{{"Großmutters Stühlchen", {2.12345, 3.2, 1.1}, 1},
                              {"bench", {1, 2.75, 1.2}, 1}};
const std::vector<PlacedSub> subs{{"corner", {0.5, 1.23456, 0.2}, -2, 0, 1}};

void expect_same(const Point& a, const Point& b) {
    CHECK(a.x == Approx(b.x).margin(6e-6));
    CHECK(a.y == Approx(b.y).margin(6e-6));
    CHECK(a.z == Approx(b.z).margin(6e-6));
}

std::string without(std::string from, const std::string& part) {
    const auto at = from.find(part);
    REQUIRE(at != std::string::npos);
    return from.erase(at, part.size());
}

}  // namespace

TEST_CASE("the written file reads back as arranged and keeps everything else") {
    const std::string written = rearranged_room_file(text, seats, subs, 0.031);
    const Scenario read = parse_room_file(written, "written.toml");
    REQUIRE(read.seats.size() == 2);
    REQUIRE(read.placed.subs.size() == 1);
    expect_same(read.seats[0].at, seats[0].at);
    expect_same(read.seats[1].at, seats[1].at);
    expect_same(read.placed.subs[0].at, subs[0].at);
    CHECK(read.placed.subs[0].dial.gain_db == -2);
    CHECK(read.seats[1].name == "bench");
    CHECK(*read.design.box_volume == Approx(0.031));
    for (const char* kept : {"# with a comment", "# keep this", "# net", "# the box", "groß"})
        CHECK(written.find(kept) != std::string::npos);
}

TEST_CASE("subs and a volume that the file lacks are added") {
    std::string bare = text.substr(0, text.find("[[sub]]"));
    bare = without(bare, "volume = \"25 L\"     # net\n");
    const Scenario read =
        parse_room_file(rearranged_room_file(bare, seats, subs, 0.02), "written.toml");
    REQUIRE(read.placed.subs.size() == 1);
    expect_same(read.placed.subs[0].at, subs[0].at);
    CHECK(*read.design.box_volume == Approx(0.02));
    CHECK(read.design.filling == Approx(1.15));

    std::string boxless = without(bare, "[box]      # the box\nfilling = 1.15\n");
    CHECK(
        *parse_room_file(rearranged_room_file(boxless, seats, subs, 0.02), "b").design.box_volume ==
        Approx(0.02));
    const std::string inline_box = "box = { filling = 1.2 }\n" + boxless;
    const Scenario inlined =
        parse_room_file(rearranged_room_file(inline_box, seats, subs, 0.02), "i");
    CHECK(*inlined.design.box_volume == Approx(0.02));
    CHECK(inlined.design.filling == Approx(1.2));
}

TEST_CASE("names with quotes are written so that they can be read") {
    const std::string bare = text.substr(0, text.find("[[sub]]"));
    const std::vector<PlacedSub> odd{{"the \"big\" one \\ new", {1, 1, 0.2}}};
    const Scenario read = parse_room_file(rearranged_room_file(bare, seats, odd, 0.02), "o");
    CHECK(read.placed.subs[0].name == odd[0].name);
}

TEST_CASE("what is no room file is refused") {
    CHECK_THROWS_AS(rearranged_room_file("= nonsense", seats, subs, 0.02), Error);
}
