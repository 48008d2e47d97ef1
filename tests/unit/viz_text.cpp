// Text as the font can show it.
#include "viz/text.hpp"

#include <catch2/catch.hpp>

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
