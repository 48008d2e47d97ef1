#include <catch2/catch.hpp>

#include "base/error.hpp"
#include "room_file/file_difference.hpp"

using namespace boxroom;

TEST_CASE("Files differ by what they mean, key by key, not by how they are written") {
    const std::string first =
        "title = \"a\"\n[box]\nvolume = \"25 L\" # so far\nfilling = 1.15\n[[sub]]\nat = [1.0, 2, "
        "0]\n"
        "[[sub]]\nat = [3, 2, 0]\n[walls]\nleft = { resistance = 5000 }\n";
    const std::string second =
        "title = \"b\"\nwalls.left = { resistance = 6000 }\n[[sub]]\nat = [1.0, 2, 0]\n[[sub]]\n"
        "at = [3, 2.5, 0]\n[box]\nfilling = 1.150\nvolume = \"13 L\"\nlargest = \"40 L\"\n";
    const auto found = file_differences(first, second);
    REQUIRE(found.size() == 4);
    const auto has = [&](const std::string& key, const std::string& a, const std::string& b) {
        for (const FileDifference& d : found)
            if (d.key == key) return d.first == a && d.second == b;
        return false;
    };
    CHECK(has("box.volume", "25 L", "13 L"));
    CHECK(has("sub 2, at", "[ 3, 2, 0 ]", "[ 3, 2.5, 0 ]"));
    CHECK(has("walls.left.resistance", "5000", "6000"));
    CHECK(has("box.largest", "", "40 L"));
    CHECK(file_differences(first, first).empty());
    CHECK_THROWS_AS(file_differences(first, "[["), Error);
}
