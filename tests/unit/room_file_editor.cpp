// A room file with single values replaced: the rest stays byte for byte, and what is read back is
// the old scenario but for these values. Expected texts were written by hand.
#include "room_file/room_file_editor.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "base/error.hpp"
#include "room_file/room_file.hpp"
#include "same_scenario.hpp"

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

/// `text` with one piece replaced by another, which must be there once.
std::string with(std::string in, const std::string& from, const std::string& to) {
    const auto at = in.find(from);
    REQUIRE(at != std::string::npos);
    REQUIRE(in.find(from, at + 1) == std::string::npos);
    return in.replace(at, from.size(), to);
}

/// The members by which the edited file differs from the first, without the text itself.
std::vector<std::string> changed(const std::string& before, const std::string& after) {
    auto found =
        same::differences(parse_room_file(before, "before"), parse_room_file(after, "after"));
    std::erase(found, "source_text");
    return found;
}

std::string edited(const std::string& from, const std::function<void(RoomFileEditor&)>& edit) {
    RoomFileEditor file(from);
    edit(file);
    return file.text();
}

std::vector<std::string> all_rooms() {
    std::vector<std::string> texts{text, starter_room_file(Units::metric),
                                   starter_room_file(Units::imperial)};
    for (const auto& entry : std::filesystem::directory_iterator(BOXROOM_SOURCE_DIR "/rooms"))
        if (entry.path().extension() == ".toml" && entry.path().stem() != "survey") {
            std::ifstream file(entry.path(), std::ios::binary);
            texts.emplace_back(std::istreambuf_iterator<char>(file),
                               std::istreambuf_iterator<char>());
        }
    REQUIRE(texts.size() > 8);
    return texts;
}

using Words = std::vector<std::string>;

}  // namespace

TEST_CASE("what has not changed keeps its bytes") {
    for (const std::string& room : all_rooms()) {
        const Scenario s = parse_room_file(room, "room.toml");
        RoomFileEditor file(room);
        for (std::size_t i = 0; i < s.seats.size(); ++i) file.set_place("seat", i, s.seats[i].at);
        for (std::size_t i = 0; i < s.placed.subs.size(); ++i)
            file.set_place("sub", i, s.placed.subs[i].at);
        if (s.design.box_volume) file.set("box.volume", Quantity::volume, *s.design.box_volume);
        if (file.has("box.facing"))
            file.set_word("box.facing", facing_name(s.design.enclosure.facing));
        CHECK(file.text() == room);
    }
}

TEST_CASE("a changed value is the only one that reads differently") {
    for (const std::string& room : all_rooms()) {
        CHECK(changed(room, edited(room, [](RoomFileEditor& file) {
                          file.set("box.volume", Quantity::volume, 0.0314);
                      })) == Words{"design.box_volume"});
        CHECK(changed(room, edited(room, [](RoomFileEditor& file) {
                          file.set_word("box.facing", "down");
                      })) == Words{"design.enclosure.facing"});
        const Point seat = parse_room_file(room, "r").seats[0].at;
        CHECK(changed(room, edited(room, [&](RoomFileEditor& file) {
                          file.set_place("seat", 0, {seat.x + 0.1, seat.y, seat.z});
                      })) == Words{"seats[0].at.x"});
    }
}

TEST_CASE("values are written in the units that stood there") {
    const auto now = [](const std::string& from, const char* path, Quantity quantity,
                        double value) {
        return edited(from, [&](RoomFileEditor& file) { file.set(path, quantity, value); });
    };
    const double longer = 3.1495999999999995;  // 10 ft 4 in
    CHECK(now(text, "room.width", Quantity::length, longer) ==
          with(text, "width = \"4 m\"", "width = \"3.1496 m\""));
    CHECK(now(text, "seat[0].at[1]", Quantity::length, longer) ==
          with(text, "\"3.5 m\"", "\"3.1496 m\""));
    CHECK(now(text, "seat[1].at[1]", Quantity::length, longer) ==
          with(text, "[1, 3, 1.2]", "[1, 3.1496, 1.2]"));  // a bare number stays bare
    CHECK(now(text, "sub[0].gain", Quantity::level, 0) == with(text, "\"-2 dB\"", "\"0 dB\""));
    const std::string feet = with(text, "\"4 m\"", "'13 ft 5 in'");
    CHECK(now(feet, "room.width", Quantity::length, longer) ==
          with(text, "\"4 m\"", "\"10 ft 4 in\""));
    const std::string cubic = with(text, "\"25 L\"", "\"0.88 ft3\"");
    CHECK(now(cubic, "box.volume", Quantity::volume, 0.028316846592) ==
          with(text, "\"25 L\"", "\"1 ft3\""));
    // Set twice: the last counts.
    CHECK(edited(text, [](RoomFileEditor& file) {
              file.set("box.volume", Quantity::volume, 0.03);
              file.set("box.volume", Quantity::volume, 0.04);
          }) == with(text, "\"25 L\"", "\"40 L\""));
}

TEST_CASE("a byte order mark and the line ends of another system stay") {
    std::string windows = "\xEF\xBB\xBF" + text;
    for (std::size_t at = 0; (at = windows.find('\n', at)) != std::string::npos; at += 2)
        windows.insert(at, "\r");
    const std::string now = edited(windows, [](RoomFileEditor& file) {
        file.set("box.volume", Quantity::volume, 0.031);
        file.set_word("box.facing", "up");
        file.add_place("sub", "second", {1, 1, 0.2});
    });
    CHECK(with(now.substr(0, windows.size() + 15), "\"31 L\"     # net\r\n", "") ==
          with(with(windows, "\"25 L\"     # net\r\n", ""), "# the box\r\n",
               "# the box\r\nfacing = \"up\"\r\n"));
    for (std::size_t at = 0; (at = now.find('\n', at)) != std::string::npos; ++at)
        REQUIRE(now[at - 1] == '\r');
    CHECK(changed(windows, now) ==
          Words{"design.box_volume", "design.enclosure.facing", "placed.subs"});
}

TEST_CASE("a key that is missing is put where it belongs") {
    const auto set_two = [](RoomFileEditor& file) {
        file.set("box.volume", Quantity::volume, 0.02);
        file.set_word("box.facing", "up");
    };
    const auto both = [&](const std::string& from) {
        const std::string now = edited(from, set_two);
        CAPTURE(now);
        CHECK(changed(from, now) == Words{"design.box_volume", "design.enclosure.facing"});
        return now;
    };
    const std::string bare = with(text, "volume = \"25 L\"     # net\n", "");
    CHECK(both(bare) ==
          with(bare, "# the box\n", "# the box\nvolume = \"20 L\"\nfacing = \"up\"\n"));
    const std::string boxless = with(bare, "[box]      # the box\nfilling = 1.15\n", "");
    CHECK(both(boxless) == boxless + "\n[box]\nvolume = \"20 L\"\nfacing = \"up\"\n");
    CHECK(both("box = {}\n" + boxless) ==
          "box = { volume = \"20 L\", facing = \"up\" }\n" + boxless);
    CHECK(both("box = { filling = 1.2 }\n" + boxless) ==
          "box = { volume = \"20 L\", facing = \"up\", filling = 1.2 }\n" + boxless);
    CHECK(both("box.filling = 1.2\n" + boxless) ==
          "box.volume = \"20 L\"\nbox.facing = \"up\"\nbox.filling = 1.2\n" + boxless);
    both(boxless + "[box.sweep]\nqtc = [0.6, 1]\nsteps = 5\n");
    both(boxless.substr(0, boxless.size() - 1));  // no line end after the last line
    // A unit for what the file does not have comes from what it has.
    const std::string cubic = with(boxless, "\"38 L\"", "\"1.3 ft3\"");
    CHECK(edited(cubic, set_two).find("volume = \"0.70629 ft3\"") != std::string::npos);
    const std::string si = with(boxless, "\"38 L\"", "0.038");
    CHECK(edited(si, set_two).find("volume = 0.02\n") != std::string::npos);
}

TEST_CASE("subs are added and taken out") {
    const auto add = [](RoomFileEditor& file) {
        file.add_place("sub", "the \"big\" one \\ new", {1, 1.5, 0.2});
        file.add_place("sub", "two", {2, 1, 0.2});
    };
    const std::string more = edited(text, add);
    CHECK(more.starts_with(text));
    CHECK(changed(text, more) == Words{"placed.subs"});
    const Scenario read = parse_room_file(more, "more");
    REQUIRE(read.placed.subs.size() == 3);
    CHECK(read.placed.subs[1].name == "the \"big\" one \\ new");
    CHECK(read.placed.subs[1].at == Point{1, 1.5, 0.2});
    CHECK(read.placed.subs[2].at == Point{2, 1, 0.2});

    const std::string fewer = edited(more, [](RoomFileEditor& file) {
        file.comment_out("sub", 2);
        file.comment_out("sub", 1);
    });
    CHECK(changed(text, fewer).empty());
    CHECK(fewer.find("# [[sub]]\n# name = \"two\"\n# at = ") != std::string::npos);

    const std::string list =
        "sub = [{ name = \"corner\", at = [0.35, 0.4, 0.22], gain = \"-2 dB\" }, ]\n" +
        text.substr(0, text.find("[[sub]]"));
    const std::string longer = edited(list, add);
    CHECK(parse_room_file(longer, "list").placed.subs.size() == 3);
    CHECK(changed(text, list).empty());
    CHECK(changed(list, edited(longer,
                               [](RoomFileEditor& file) {
                                   file.comment_out("sub", 2);
                                   file.comment_out("sub", 1);
                               }))
              .empty());
}

TEST_CASE("the first of a list goes too, and the last one as a whole") {
    const std::string two = "a = 1\nsub = [ { name = \"x\" }, { name = \"y\" } ]\n";
    const auto drop = [](RoomFileEditor& file) { file.comment_out("sub", 0); };
    CHECK(edited(two, drop) == "a = 1\nsub = [ { name = \"y\" } ]\n");
    CHECK(edited("sub = [\n { name = \"x\" },\n]\n", drop) ==
          "# sub = [\n#  { name = \"x\" },\n# ]\n");
}

TEST_CASE("a key gets another name, and its value keeps every byte") {
    const std::string before = "[walls]\nleft   = [\"a\",  # why\n 'b']\nwalls.\"right\" = 2\n";
    CHECK(edited(before, [](RoomFileEditor& file) { file.rename("walls.left", "edge_1"); }) ==
          "[walls]\nedge_1   = [\"a\",  # why\n 'b']\nwalls.\"right\" = 2\n");
    CHECK(edited("walls = { left = 1, right = 2 }\n", [](RoomFileEditor& file) {
              file.rename("walls.right", "edge_2");
          }) == "walls = { left = 1, edge_2 = 2 }\n");
}

TEST_CASE("a key that shall not count becomes a comment, or leaves a table of one line") {
    const auto without = [](const std::string& path) {
        return [path](RoomFileEditor& file) { file.comment_out_entry(path); };
    };
    CHECK(edited("[room]\nwidth = \"4 m\"  # x\nplan = [[0, 0],\n  [1, 1]]\nheight = 2\n",
                 without("room.plan")) ==
          "[room]\nwidth = \"4 m\"  # x\n# plan = [[0, 0],\n#   [1, 1]]\nheight = 2\n");
    CHECK(edited("[room]\nwidth = \"4 m\"  # x\n", without("room.width")) ==
          "[room]\n# width = \"4 m\"  # x\n");
    CHECK(edited("room.width = 4\nroom.length = 5\n", without("room.width")) ==
          "# room.width = 4\nroom.length = 5\n");
    const std::string line = "room = { width = 4, length = 5, height = 2 }\n";
    CHECK(edited(line, without("room.width")) == "room = { length = 5, height = 2 }\n");
    CHECK(edited(line, without("room.height")) == "room = { width = 4, length = 5 }\n");
    CHECK(edited("room = { width = 4 }\n", without("room.width")) == "room = {  }\n");
    CHECK(edited(line, without("room.depth")) == line);
}

TEST_CASE("what is left for others to write is cut out with its unit") {
    RoomFileEditor file(text);
    file.leave("volume", "box.volume", Quantity::volume);
    file.leave("extra", "box.extra_volume", Quantity::volume, 0.003);
    file.leave_word("facing", "box.facing", "inward");
    file.leave_place("seat 0", "seat", 0);
    file.leave_place("main", "main", 0);
    const auto pieces = file.pieces();
    std::string untouched;
    std::vector<FileSlot> slots;
    for (const FilePiece& piece : pieces) {
        untouched += piece.was;
        slots.insert(slots.end(), piece.slots.begin(), piece.slots.end());
    }
    CHECK(untouched == text);
    REQUIRE(slots.size() == 9);
    CHECK(slots[0].name == "extra");  // one cut for all that [box] lacks, after its heading
    CHECK(slots[0].key == "extra_volume = ");
    CHECK(slots[0].unit.name == "L");
    CHECK(slots[1].word == "inward");
    CHECK(slots[2].name == "volume");
    CHECK(slots[2].key.empty());
    CHECK(*slots[2].value == Approx(0.025));
    CHECK(slots[4].name == "seat 0 1");
    CHECK(*slots[4].value == 3.5);
    CHECK(slots[6].name == "main 0");
    CHECK_FALSE(slots[6].value);
    CHECK(pieces.back().head + "1, 2, 3" + pieces.back().tail ==
          "\n[[main]]\nname = \"main\"\nat = [1, 2, 3]\n");
}

TEST_CASE("what is no room file is refused") {
    CHECK_THROWS_AS(RoomFileEditor("= nonsense"), Error);
}

TEST_CASE("a title is given to a file that has none, before all of its tables") {
    const std::string untitled = text.substr(text.find("[room]"));
    for (const std::string begin : {"", "\xEF\xBB\xBF"}) {
        RoomFileEditor file(begin + untitled);
        file.set_word("title", "Attic");
        CHECK(file.text() == begin + "title = \"Attic\"\n" + untitled);
    }
}
