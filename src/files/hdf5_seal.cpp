#include "files/hdf5_seal.hpp"

#include <fmt/format.h>

#include <cstdint>
#include <fstream>
#include <iterator>
#include <string_view>

#include "base/error.hpp"
#include "files/sha256.hpp"

namespace boxroom {

namespace {

constexpr std::string_view opening = "boxroom results";
constexpr std::uintmax_t largest = 1 << 30;

/// The whole user block: the line and zeros.
std::string seal_of(std::string_view data) {
    std::string block = fmt::format("{}: {} bytes follow byte {}, SHA-256 {}\n", opening,
                                    data.size(), seal_size, sha256(data));
    block.resize(seal_size);
    return block;
}

}  // namespace

std::string sealed_hdf5(std::string bytes) {
    return bytes.replace(0, seal_size, seal_of(std::string_view(bytes).substr(seal_size)));
}

std::string sealed_bytes(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::string bytes(opening.size(), '\0');
    // What begins otherwise is not read on, however large it is.
    if (!file.read(bytes.data(), static_cast<std::streamsize>(bytes.size())) || bytes != opening)
        throw Error(path.string(),
                    "this file was not written by boxroom, or by an older one, or is damaged",
                    "write it again with the same command");
    std::error_code none;
    if (std::filesystem::file_size(path, none) > largest)
        throw Error(path.string(), "the file is larger than 1 GB, which no results file is",
                    "write it again with the same command");
    bytes.append(std::istreambuf_iterator<char>(file), {});
    if (bytes.size() < seal_size ||
        !bytes.starts_with(seal_of(std::string_view(bytes).substr(seal_size))))
        throw Error(path.string(), "the file is cut short, damaged or was changed by hand",
                    "write it again with the same command, or restore it from a copy");
    return bytes;
}

}  // namespace boxroom
