// The [build] table.
#include <catch2/catch.hpp>

#include "base/error.hpp"
#include "room_file/room_file.hpp"

using namespace boxroom;

namespace {

Scenario with(const std::string& lines, const std::string& box = "") {
    return parse_room_file(R"([room]
width = 4
length = 5
height = 2.5
[walls]
left = "concrete"
right = "concrete"
front = "concrete"
back = "concrete"
floor = "concrete"
ceiling = "concrete"
[driver]
fs = 27
qts = 0.45
vas = "38 L"
sd = "330 cm2"
[[seat]]
name = "a"
at = [2, 3, 1]
[box]
volume = "25 L"
)" + box + "\n[build]\n" + lines,
                           "r.toml");
}

/// The message, which must name this line.
std::string refused(const std::string& lines, const std::string& box = "") {
    try {
        with(lines, box);
    } catch (const Error& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("Everything in [build] is read in SI") {
    const Scenario s = with(R"(material = "birch plywood"
density = "690 kg/m3"
joint = "mitred"
double_front = true
braces = 2
cleats = false
sheet = ["4 ft", "8 ft"]
kerf = "0.125 in"
grain = true
driver_cut_out = "236 mm"
driver_frame = "265 mm"
driver_depth = "145 mm"
amplifier_cut_out = ["200 mm", "250 mm"]
driver_volume = "1.4 L"
amplifier_volume = "0 L"
bracing_volume = "1.2 L"
driver_mass = "5.5 kg"
amplifier_mass = "400 g"
filling_density = "12 kg/m3")");
    CHECK(s.design.build.material.name == "birch plywood");
    CHECK(s.design.build.material.density == 690);
    CHECK(s.design.build.mitred);
    CHECK(s.design.build.grain);
    CHECK(s.design.build.sheet_length == Approx(2.4384));  // the longer side, whichever comes first
    CHECK(s.design.build.sheet_width == Approx(1.2192));
    CHECK(s.design.build.kerf == Approx(0.003175));
    CHECK(*s.design.build.driver_frame == Approx(0.265));
    CHECK(*s.design.enclosure.driver_depth == Approx(0.145));
    CHECK((*s.design.enclosure.amplifier_cut_out)[1] == Approx(0.25));
    CHECK(*s.design.build.driver_mass == Approx(5.5));
    CHECK(*s.design.build.amplifier_mass == Approx(0.4));
    CHECK(s.design.build.filling_density == 12);
    CHECK(s.design.enclosure.double_front);
    CHECK(s.design.enclosure.itemised);
    CHECK(*s.design.enclosure.cut_out == Approx(0.236));
    CHECK(s.design.enclosure.bodies.braces == 2);
    CHECK_FALSE(s.design.enclosure.bodies.cleats);
    CHECK(s.design.enclosure.bodies.driver.value == Approx(0.0014));
    CHECK(s.design.enclosure.bodies.driver.error == 0);
    CHECK(s.design.enclosure.bodies.amplifier.value == 0);
    CHECK(*s.design.enclosure.bodies.bracing == Approx(0.0012));
}

TEST_CASE("Left out: estimates by their rules, and the room's height as the limit") {
    const Scenario s = with("");
    CHECK(s.design.build.material.name == "MDF");
    CHECK(s.design.enclosure.itemised);
    CHECK(s.design.enclosure.bodies.driver.error > 0);
    CHECK(s.design.enclosure.bodies.amplifier.value == 0);  // no [amplifier]
    CHECK_FALSE(s.design.enclosure.bodies.bracing);
    CHECK(s.design.enclosure.tallest == 2.5);
    CHECK(with("", "proportions = [1, 2, 1]").design.enclosure.tallest > 100);  // the file decides
}

TEST_CASE("One sum for everything in the box still counts alone") {
    const Scenario s = with("", "extra_volume = \"4 L\"");
    CHECK_FALSE(s.design.enclosure.itemised);
    CHECK(s.design.enclosure.extra_volume == Approx(0.004));
}

TEST_CASE("What is wrong is said with its line and a mend") {
    CHECK(refused("material = \"MDX\"").find("r.toml:24: ") == 0);
    CHECK(refused("material = \"MDX\"").find("MDF") != std::string::npos);
    CHECK(refused("joint = \"nails\"").find("mitred") != std::string::npos);
    CHECK(refused("cleats = \"no\"").find("true or false") != std::string::npos);
    CHECK(refused("kerf = \"30 mm\"").find("r.toml:24: ") == 0);
    CHECK(refused("driver_volume = \"1 L\"", "extra_volume = \"3 L\"").find("extra_volume") !=
          std::string::npos);
    const std::string moved = refused("crossover = \"90 Hz\"");
    CHECK(moved.find("r.toml:24: ") == 0);
    CHECK(moved.find("[crossover] with frequency = \"90 Hz\"") != std::string::npos);
    const std::string two = refused("braces = 99\nkerf = true");
    CHECK(two.find("r.toml:24: ") != std::string::npos);
    CHECK(two.find("r.toml:25: ") != std::string::npos);
}
