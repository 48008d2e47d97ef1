// planned.toml is the user's own text with the decision in it, and reads back as the decision.
#include "room_file/planned_file.hpp"

#include <catch2/catch.hpp>

#include "placement/standing.hpp"
#include "room_file/room_file.hpp"

using namespace boxroom;

namespace {

const std::string head =
    "# my room\n[room]\nwidth = \"4.10 m\"   # measured twice\nlength = \"5.20 m\"\n"
    "height = \"2.45 m\"\n[walls]\nleft = \"brick, plastered\"\nright = \"brick, plastered\"\n"
    "front = \"brick, plastered\"\nback = \"brick, plastered\"\nfloor = \"concrete\"\n"
    "ceiling = \"concrete\"\n[driver]\nfs = \"27 Hz\"\nqts = 0.45\nvas = \"38 L\"\n"
    "[[seat]]\nname = \"sofa\"\nat = [\"2 m\", \"3.5 m\", \"1.1 m\"]\n";

Decision decision(int boxes) {
    Decision d;
    for (int n = 0; n < boxes; ++n)
        d.subs.push_back({"sub " + std::to_string(n + 1),
                          "",
                          0.0213,
                          0,
                          {},
                          {0.41 + n, 0.35, 0},
                          {},
                          n == 0 ? Facing::back : Facing::right,
                          {-1.5 * n, 0.0043 * n, n == 0 ? 1 : -1}});
    d.equaliser = {{EqFilter::Kind::peaking, 41.5, -6.3, 4.27},
                   {EqFilter::Kind::peaking, 72, 2.1, 0.7}};
    return d;
}

void check_reads_back(const std::string& source, const Decision& d) {
    const Scenario before = parse_room_file(source, "before.toml");
    const std::string text = planned_room_file(before, d);
    INFO(text);
    const Scenario after = parse_room_file(text, "planned.toml");
    CHECK(*after.design.box_volume == d.first().volume);
    REQUIRE(after.placed.subs.size() == d.subs.size());
    for (std::size_t n = 0; n < d.subs.size(); ++n) {
        const PlacedSub& sub = after.placed.subs[n];
        CHECK(sub.name == d.subs[n].name);
        const BoxPlace& place = after.placed.places[n];
        CHECK(place.footprint->x == d.subs[n].footprint.x);
        CHECK(place.footprint->y == d.subs[n].footprint.y);
        CHECK(place.facing == d.subs[n].facing);
        CHECK(sub.dial == d.subs[n].dial);
        const BoxStanding at =
            standing_at(after, *place.footprint, *place.facing, d.first().volume);
        CHECK(sub.at.x == at.cone.x);
        CHECK(sub.at.z == at.cone.z);
    }
    REQUIRE(after.placed.filters.size() == 2);
    CHECK(after.placed.filters[0].frequency == 41.5);
    CHECK(after.placed.filters[0].gain_db == -6.3);
    CHECK(after.placed.filters[0].q == 4.27);
    CHECK(text.find("# measured twice\n") != std::string::npos);
    CHECK(planned_room_file(after, d) == text);  // nothing moves a second time
}

}  // namespace

TEST_CASE("A decision is read back out of the user's own text as it was made") {
    const std::string sub =
        "[[sub]]   # by hand\nname = \"corner\"\nat = [\"0.35 m\",\n  \"0.40 m\", \"0.22 m\"]\n";
    const std::string second = "[[sub]]\nat = [1, 1, 0.2]\ngain = \"-3 dB\"\n";
    for (const int boxes : {1, 2})
        for (const std::string& subs :
             {std::string(), sub, sub + second,
              std::string("[[sub]]\nbox_at = [\"1 m\", \"1 m\"]\nfacing = \"left\"\n")})
            for (const char* rest : {"", "[box]\nvolume = \"25 L\" # old\n",
                                     "[box]\nfilling = 1.15\n", "[equaliser]\nfilters = []\n"})
                check_reads_back(head + rest + subs, decision(boxes));
    // Subs as a list of one line.
    check_reads_back("sub = [{ name = \"a\", at = [1, 1, 0.2] }, { at = [2, 1, 0.2] }]\n" + head,
                     decision(1));
    check_reads_back("sub = [{ name = \"a\", at = [1, 1, 0.2] }]\n" + head, decision(2));
}

TEST_CASE("A box may be placed by its centre on the floor") {
    const std::string file = head + "[box]\nvolume = \"25 L\"\n[[sub]]\n";
    const Scenario s =
        parse_room_file(file + "box_at = [\"1.00 m\", \"0.60 m\"]\nfacing = \"back\"\n", "a.toml");
    const Sides outer = enclosure(0.025, s.design.enclosure);
    CHECK(s.placed.subs[0].at.x == Approx(1.0));
    CHECK(s.placed.subs[0].at.y == Approx(0.6 + outer.depth / 2));
    CHECK(s.placed.subs[0].at.z == Approx(outer.height / 2));
    CHECK_THROWS(parse_room_file(file + "box_at = [1, 1]\nat = [1, 1, 1]\n", "a.toml"));
    CHECK_THROWS(parse_room_file(file + "box_at = [1, 9]\n", "a.toml"));
    CHECK_THROWS(parse_room_file(file + "box_at = [1, 1]\nfacing = \"north\"\n", "a.toml"));
}

TEST_CASE("Recordings of other places of the boxes are left out of planned.toml") {
    const std::string block =
        "[[sub]]\nname = \"mine\"\nat = [\"1 m\", \"1 m\", \"0.2 m\"]\n"
        "[[recording]]  # one evening\nseat = \"sofa\"\nsub = \"mine\"\ncurve = \"a.csv\"\n"
        "[[recording]]\nseat = \"sofa\"\nsub = \"mine\"\ncurve = \"b.csv\"\n";
    check_reads_back(head + block, decision(1));
    const std::string text =
        planned_room_file(parse_room_file(head + block, "before.toml"), decision(1));
    CHECK(text.find("# [[recording]]  # one evening") != std::string::npos);
    CHECK(text.find("# curve = \"b.csv\"") != std::string::npos);
    check_reads_back("recording = [{ seat = \"sofa\", sub = \"mine\", curve = \"a.csv\" }]\n" +
                         head + "[[sub]]\nname = \"mine\"\nat = [\"1 m\", \"1 m\", \"0.2 m\"]\n",
                     decision(1));
}
