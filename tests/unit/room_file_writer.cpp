// A written room file, read back, is the scenario it was written from; a user's text stays text.
#include <catch2/catch.hpp>

#include "room_file/room_file.hpp"
#include "room_file/room_writer.hpp"

using namespace boxroom;

TEST_CASE("a room file that was written reads back as the same scenario") {
    for (const char* name : {"demo", "large_leaky", "masonry_small"}) {
        Scenario s = read_room_file(std::string(BOXROOM_SOURCE_DIR "/rooms/") + name + ".toml");
        s.title = "odd \"quotes\" \\ ''' \x01 \n [[sub]] \u05e9";
        s.wanted.keep_outs.at(0).name = "\"\"\"\nqts = 3";
        s.design.enclosure.facing = Facing::up;
        const Scenario back = parse_room_file(room_file_text(s), "written");
        INFO(name);
        CHECK(back.title == s.title);
        CHECK(back.wanted.keep_outs[0].name == s.wanted.keep_outs[0].name);
        CHECK(back.acoustics.room.wall_description[0] ==
              s.acoustics.room.wall_description[0]);  // named in all three
        for (int w = 0; w < 6; ++w) {
            REQUIRE(back.acoustics.room.walls[w].branches.size() ==
                    s.acoustics.room.walls[w].branches.size());
            for (std::size_t b = 0; b < s.acoustics.room.walls[w].branches.size(); ++b) {
                CHECK(back.acoustics.room.walls[w].branches[b].resistance ==
                      s.acoustics.room.walls[w].branches[b].resistance);
                CHECK(back.acoustics.room.walls[w].branches[b].stiffness ==
                      s.acoustics.room.walls[w].branches[b].stiffness);
            }
        }
        CHECK(back.acoustics.room.length == s.acoustics.room.length);
        CHECK(back.design.driver.sd == s.design.driver.sd);
        CHECK(back.design.driver.bl == s.design.driver.bl);
        CHECK(back.design.box_volume == s.design.box_volume);
        CHECK(back.design.filling == s.design.filling);
        CHECK(back.design.enclosure.facing == Facing::up);
        CHECK(back.design.enclosure.thickness == s.design.enclosure.thickness);
        CHECK(back.design.amplifier.power == s.design.amplifier.power);
        REQUIRE(back.seats.size() == s.seats.size());
        CHECK(back.seats.back().at == s.seats.back().at);
        CHECK(back.seats.back().weight == s.seats.back().weight);
        CHECK(back.placed.subs.at(0).at == s.placed.subs.at(0).at);
        CHECK(back.wanted.keep_outs.back().y1 == s.wanted.keep_outs.back().y1);
        CHECK(back.acoustics.frequency == s.acoustics.frequency);
        CHECK(back.judgement.target.band.low == s.judgement.target.band.low);
        CHECK(back.wanted.spots.step == s.wanted.spots.step);
        CHECK(back.design.sweep->high == s.design.sweep->high);
    }
}
