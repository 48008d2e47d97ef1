// A written room file, read back, is the scenario it was written from; a user's text stays text.
#include <catch2/catch.hpp>

#include "io/room_file.hpp"
#include "io/room_writer.hpp"

using namespace boxroom;

TEST_CASE("a room file that was written reads back as the same scenario") {
    for (const char* name : {"demo", "large_leaky", "masonry_small"}) {
        Scenario s = read_room_file(std::string(BOXROOM_SOURCE_DIR "/rooms/") + name + ".toml");
        s.title = "odd \"quotes\" \\ ''' \x01 \n [[sub]] \u05e9";
        s.keep_outs.at(0).name = "\"\"\"\nqts = 3";
        s.enclosure.facing = Facing::up;
        const Scenario back = parse_room_file(room_file_text(s), "written");
        INFO(name);
        CHECK(back.title == s.title);
        CHECK(back.keep_outs[0].name == s.keep_outs[0].name);
        CHECK(back.room.wall_description[0] == s.room.wall_description[0]);  // named in all three
        for (int w = 0; w < 6; ++w) {
            REQUIRE(back.room.walls[w].branches.size() == s.room.walls[w].branches.size());
            for (std::size_t b = 0; b < s.room.walls[w].branches.size(); ++b) {
                CHECK(back.room.walls[w].branches[b].resistance ==
                      s.room.walls[w].branches[b].resistance);
                CHECK(back.room.walls[w].branches[b].stiffness ==
                      s.room.walls[w].branches[b].stiffness);
            }
        }
        CHECK(back.room.length == s.room.length);
        CHECK(back.driver.sd == s.driver.sd);
        CHECK(back.driver.bl == s.driver.bl);
        CHECK(back.box_volume == s.box_volume);
        CHECK(back.filling == s.filling);
        CHECK(back.enclosure.facing == Facing::up);
        CHECK(back.enclosure.thickness == s.enclosure.thickness);
        CHECK(back.amplifier.power == s.amplifier.power);
        REQUIRE(back.seats.size() == s.seats.size());
        CHECK(back.seats.back().at == s.seats.back().at);
        CHECK(back.seats.back().weight == s.seats.back().weight);
        CHECK(back.subs.at(0).at == s.subs.at(0).at);
        CHECK(back.keep_outs.back().y1 == s.keep_outs.back().y1);
        CHECK(back.frequency == s.frequency);
        CHECK(back.target.band.low == s.target.band.low);
        CHECK(back.spots.step == s.spots.step);
        CHECK(back.sweep->high == s.sweep->high);
    }
}
