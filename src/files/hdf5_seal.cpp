#include "files/hdf5_seal.hpp"

#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <string_view>

#include "base/error.hpp"
#include "files/sha256.hpp"

namespace boxroom {

namespace {

constexpr std::string_view opening = "boxroom results";

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

void require_unbroken_seal(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    const std::string bytes(std::istreambuf_iterator<char>(file), {});
    if (!bytes.starts_with(opening))
        throw Error(path.string(),
                    "this file was not written by boxroom, or by an older one, or is damaged",
                    "write it again with the same command");
    if (bytes.size() < seal_size || !bytes.starts_with(seal_of(bytes.substr(seal_size))))
        throw Error(path.string(), "the file is cut short, damaged or was changed by hand",
                    "write it again with the same command, or restore it from a copy");
}

}  // namespace boxroom
