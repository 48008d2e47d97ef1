// Tables of measured numbers as people's programs export them.
#include <catch2/catch.hpp>

#include "base/error.hpp"
#include "measured/curve.hpp"

using namespace boxroom;

namespace {

const CurveColumn ohms{"impedance_ohm", 1e-3, 1e5};

Curve parse(const std::string& text) {
    return parse_curve(text, "a.csv", ohms);
}

std::string fault_of(const std::string& text) {
    try {
        parse(text);
    } catch (const Error& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("A table is read whatever its margins, marks and line ends") {
    const Curve c = parse(
        "\xEF\xBB\xBF# of Tuesday\r\n\"frequency_hz\", impedance_ohm ,phase_deg\r\n\r\n"
        "10, 4.0, 90\r\n20,8e0,+45\r\n");
    REQUIRE(c.frequency == std::vector<double>{10, 20});
    CHECK(c.value == std::vector<double>{4, 8});
    CHECK(c.phase[0] == Approx(1.5707963268));
    CHECK(c.phase[1] == Approx(0.7853981634));
    CHECK(c.notes.empty());
}

TEST_CASE("Decimal commas are read between semicolons and refused between commas") {
    const Curve c = parse("frequency_hz;impedance_ohm\n10,5;4,25\n");
    CHECK(c.frequency[0] == 10.5);
    CHECK(c.value[0] == 4.25);
    const std::string fault = fault_of("frequency_hz,impedance_ohm\n10,5,4,25\n");
    CHECK_THAT(fault, Catch::Matchers::StartsWith("a.csv:2: "));
    CHECK_THAT(fault, Catch::Matchers::Contains("decimal points"));
}

TEST_CASE("Rows out of order, repeated and with gaps are mended and told") {
    const Curve c = parse("frequency_hz,impedance_ohm\n30,6\n10,4\n,5\n20,\n10,8\n");
    CHECK(c.frequency == std::vector<double>{10, 30});
    CHECK(c.value == std::vector<double>{6, 6});
    CHECK(c.notes.size() == 3);
}

TEST_CASE("What is no table gets a sentence with its line") {
    CHECK_THAT(fault_of(""), Catch::Matchers::Contains("empty"));
    CHECK_THAT(fault_of("f,z\n1,2\n"), Catch::Matchers::Contains("frequency_hz,impedance_ohm"));
    CHECK_THAT(fault_of("frequency_hz,impedance_ohm\n"), Catch::Matchers::Contains("no row"));
    for (const char* row :
         {"x,4", "10,nan", "10,inf", "-1,4", "0,4", "10,-4", "10,1e400", "10", "10 Hz,4"})
        CHECK_THAT(fault_of(std::string("frequency_hz,impedance_ohm\n") + row + "\n"),
                   Catch::Matchers::StartsWith("a.csv:2: "));
}
