#include "base/number.hpp"

#include <catch2/catch.hpp>

using namespace boxroom;

TEST_CASE("Counts have commas from ten thousand on, as English books print them") {
    CHECK(counted(0) == "0");
    CHECK(counted(9999) == "9999");
    CHECK(counted(10000) == "10,000");
    CHECK(counted(123456) == "123,456");
    CHECK(counted(1234567) == "1,234,567");
}
