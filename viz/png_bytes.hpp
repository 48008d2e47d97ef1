#pragma once
#include <cstdint>
#include <string>
#include <vector>

namespace boxroom {

/// A PNG file of an RGB picture, row by row from the top, that says who wrote it
/// (files/written_mark). Rows are stored as they are: in flat colours that is as small as any of
/// PNG's filters makes them, and trying all of those takes three times as long. Throws
/// std::length_error where `rgb` has not 3 x width x height numbers, std::runtime_error where PNG
/// cannot hold it.
std::string png_bytes(int width, int height, const std::vector<std::uint8_t>& rgb);

}  // namespace boxroom
