// Where a value lies, and that another shape is refused instead of read beyond its end.
#include "base/by_frequency.hpp"

#include <catch2/catch.hpp>

using namespace boxroom;

TEST_CASE("Values by frequency: columns run fastest, then rows") {
    const ByFrequency<int> v(2, 3, 2, {0, 1, 10, 11, 20, 21, 100, 101, 110, 111, 120, 121});
    for (int f = 0; f < 2; ++f)
        for (int r = 0; r < 3; ++r)
            for (int c = 0; c < 2; ++c) CHECK(v(f, r, c) == 100 * f + 10 * r + c);
    CHECK(v.at(1).size() == 6);
    CHECK(v.at(1)[3] == 111);
    CHECK(v.over_frequency(2, 1) == std::vector{21, 121});
}

TEST_CASE("Values by frequency: another shape is refused") {
    CHECK_THROWS_AS(ByFrequency<int>(2, 3, 2, {1, 2, 3}), std::length_error);
    const ByFrequency<int> v(2, 3);
    CHECK_NOTHROW(v.require(2, 3));
    CHECK_THROWS_AS(v.require(3, 2), std::length_error);
    CHECK_THROWS_AS(v.require(2, 3, 2), std::length_error);
    CHECK(ByFrequency<int>().empty());
}
