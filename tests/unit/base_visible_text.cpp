#include "base/visible_text.hpp"

#include <catch2/catch.hpp>

#include "base/error.hpp"

using namespace boxroom;
using namespace std::string_literals;

TEST_CASE("What a terminal would obey is shown instead") {
    // ESC and BEL (ECMA-48), C1 CSI as UTF-8, right-to-left override and isolate (Unicode TR 9),
    // line separator, NUL.
    CHECK(visible_text("a\x1b[31m\x07z") == "a\\x1b[31m\\x07z");
    CHECK(visible_text("\xc2\x9b" "31m") == "\\x9b31m");
    CHECK(visible_text("\u202egpj.exe\u2066") == "\\u202egpj.exe\\u2066");
    CHECK(visible_text("a\u2028" "b\nc") == "a\\u2028b\\x0ac");
    CHECK(visible_text("a\nb\r", Lines::kept) == "a\nb\\x0d");
    CHECK(visible_text("cut\0short"s) == "cut\\x00short");
}

TEST_CASE("Bytes that are no UTF-8 are shown, and what people write stays") {
    CHECK(visible_text("\xff\xfe") == "\\xff\\xfe");
    CHECK(visible_text("\xc0\xaf") == "\\xc0\\xaf");          // overlong "/" (RFC 3629, sec. 10)
    CHECK(visible_text("\xed\xa0\x80") == "\\xed\\xa0\\x80");  // a surrogate
    CHECK(visible_text("\xf4\x90\x80\x80") == "\\xf4\\x90\\x80\\x80");
    CHECK(visible_text("a\xe2\x82") == "a\\xe2\\x82");  // cut off
    for (const char* text : {"Sofa, links", "Küche", "客厅", "غرفة", "🛋 12\" sub"})
        CHECK(visible_text(text) == text);
}

TEST_CASE("Messages of faults hold nothing alive and are not cut") {
    const Error error("a\x1b.toml:3", "is \"x\0y\""s, "mend\nit");
    CHECK(std::string(error.what()) == "a\\x1b.toml:3: is \"x\\x00y\" -- mend\\x0ait");
}
