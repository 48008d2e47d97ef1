#include <png.h>

#include <catch2/catch.hpp>
#include <stdexcept>

#include "viz/png_bytes.hpp"

using namespace boxroom;

TEST_CASE("A picture comes back from its PNG pixel by pixel, and says who wrote it") {
    constexpr int width = 7, height = 5;
    std::vector<std::uint8_t> rgb;
    for (int n = 0; n < 3 * width * height; ++n) rgb.push_back(static_cast<std::uint8_t>(n * 37));
    const std::string bytes = png_bytes(width, height, rgb);
    // A tEXt chunk, keyword and text with a zero between (clause 11.3.4.3): files/written_mark.
    CHECK(bytes.find(std::string("tEXtSoftware\0boxroom", 20)) != bytes.npos);

    png_image image{};  // libpng's own reader (PNG: ISO/IEC 15948)
    image.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()));
    REQUIRE(image.width == width);
    REQUIRE(image.height == height);
    image.format = PNG_FORMAT_RGB;
    std::vector<std::uint8_t> read(PNG_IMAGE_SIZE(image));
    REQUIRE(png_image_finish_read(&image, nullptr, read.data(), 0, nullptr));
    CHECK(read == rgb);
}

TEST_CASE("A picture without pixels, or with too few, is none") {
    CHECK_THROWS_AS(png_bytes(0, 0, {}), std::runtime_error);
    CHECK_THROWS_AS(png_bytes(2, 2, {1, 2, 3}), std::length_error);
}
