// What the child that reads a results file says, which libhdf5 may have run astray.
#include <catch2/catch.hpp>
#include <cstdint>
#include <string>
#include <vector>

#include "base/error.hpp"
#include "files/hdf5_pieces.hpp"

using namespace boxroom;

namespace {

std::string eight(std::uint64_t number) {
    return {reinterpret_cast<const char*>(&number), sizeof number};
}

/// A piece of numbers (kind 0) of this shape that brings along `held` zeros.
std::string piece(const std::string& name, const std::vector<std::uint64_t>& shape,
                  std::uint64_t held) {
    std::string out = eight(name.size()) + name + eight(0) + eight(shape.size());
    for (const std::uint64_t extent : shape) out += eight(extent);
    return out + eight(held) + std::string(8 * held, '\0') + eight(0);
}

}  // namespace

TEST_CASE("Pieces: a table as large as it says is taken") {
    const Hdf5Pieces pieces =
        unpacked_pieces("T" + piece("/a", {2, 3}, 6) + piece("/b", {}, 1), "");
    REQUIRE(pieces.size() == 2);
    CHECK(pieces.at("/a").shape == std::vector<std::size_t>{2, 3});
    CHECK(pieces.at("/a").numbers.size() == 6);
}

TEST_CASE("Pieces: whatever else is said is refused") {
    const std::string good = "T" + piece("/a", {2, 3}, 6);
    for (std::size_t length = 0; length < good.size(); ++length)
        if (length != 1)  // nothing was wanted, and nothing is there
            CHECK_THROWS_AS(unpacked_pieces(good.substr(0, length), ""), Error);
    constexpr std::uint64_t huge = std::uint64_t{1} << 32;
    for (const auto& shape : std::vector<std::vector<std::uint64_t>>{
             {2, 2}, {7}, {huge, huge}, {huge * huge - 1}, {huge, huge, 0, 1}, {0}})
        CHECK_THROWS_AS(unpacked_pieces("T" + piece("/a", shape, shape.size() == 4 ? 1 : 6), ""),
                        Error);
    // Two of 2^32 make 0 where eight bytes count.
    CHECK_THROWS_AS(unpacked_pieces("T" + piece("/a", {huge, huge}, 0), ""), Error);
    CHECK_THROWS_AS(unpacked_pieces("R" + eight(5) + "wrong", ""), Error);
    CHECK_THROWS_AS(unpacked_pieces("?" + piece("/a", {}, 1), ""), Error);
}
