// Text as the font can show it.
#include "viz/text.hpp"

#include <catch2/catch.hpp>

#include "picture/text_width.hpp"
#include "viz/drawing_png.hpp"

using namespace boxroom;

TEST_CASE("text is brought down to what the font can show") {
    CHECK(printable("caf\xC3\xA9 \xC2\xB1") == "caf\xC3\xA9 \xC2\xB1");  // Latin-1 stays
    CHECK(printable("\xCE\xB1\xE5\xBA\xA7") == "??");
    CHECK(printable("a\xE2\x80\x93"
                    "b\xE2\x80\x99") == "a-b'");
    CHECK(printable("x\xFFy\nz\xC3") == "x?y z?");
    CHECK(shortened("twelve chars", 12) == "twelve chars");
    CHECK(shortened("thirteen char", 12) == "thirteen...");
    CHECK(character_count(
              shortened(printable("\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9"), 5)) == 5);
    const TextImage flat = set_text("front wall", {16}),
                    turned = set_text("front wall", {16, false, true});
    REQUIRE(flat.width > flat.height);
    CHECK(turned.width == flat.height);
    CHECK(turned.height == flat.width);
    int inked = 0;
    for (const auto c : flat.coverage) inked += c > 128;
    CHECK(inked > 100);
    CHECK(set_text("", {16}).width == 0);
}

TEST_CASE("no letter of a drawing is wider than the table says, in either font") {
    for (const bool bold : {false, true})
        for (char c = '!'; c <= '~'; ++c) {
            INFO(c << (bold ? " bold" : ""));
            const double drawn = set_text(std::string(40, c), {200, bold}).width;
            CHECK(text_width(std::string(40, c), 200, bold) > drawn - 20);  // of 8,000 at most
        }
    // Adobe Core 14 AFM: of Helvetica "E" 667, "T" 611, of Helvetica-Bold "S" 667 (from memory).
    CHECK(text_width("E", 1000) >= 667);
    CHECK(text_width("T", 1000) >= 611);
    CHECK(text_width("S", 1000, true) >= 667);
    // No more room is taken than the wider of the two wants.
    CHECK(text_width("T", 1000) < 620);
    CHECK(text_width("\xC3\xA9", 1000) < 700);
}

TEST_CASE("a drawing becomes a picture of its size") {
    Drawing d;
    d.text({{20, 20}, "a < b & c", 4});
    d.line({10, 10}, {40, 10}, {1.0, false, {255, 0, 0}});
    d.line({10, 15}, {40, 15}, {1.0, true, {0, 0, 0}});
    const std::string png = drawing_png(d, 2);
    CHECK(png.substr(1, 3) == "PNG");
    // Width and height stand as big-endian words at 16 and 20 (PNG, "IHDR").
    CHECK(static_cast<unsigned char>(png[18]) * 256 + static_cast<unsigned char>(png[19]) == 518);
    CHECK(static_cast<unsigned char>(png[22]) * 256 + static_cast<unsigned char>(png[23]) == 380);
}
