#include "files/hdf5_seal.hpp"

#include <fmt/format.h>

#include <array>
#include <cstdint>
#include <fstream>
#include <string>

#include "base/error.hpp"

namespace boxroom {

namespace {

constexpr std::string_view opening = "boxroom results";

/// The line that belongs at the start of the file, from what follows the user block.
std::string seal_of(std::istream& file) {
    std::uint64_t sum = 0xcbf29ce484222325;
    std::uint64_t length = 0;
    std::array<char, 1 << 16> bytes{};
    file.seekg(seal_size);
    do {
        file.read(bytes.data(), bytes.size());
        for (std::streamsize i = 0; i < file.gcount(); ++i)
            sum = (sum ^ static_cast<unsigned char>(bytes[i])) * 0x100000001b3;
        length += static_cast<std::uint64_t>(file.gcount());
    } while (file);
    file.clear();
    return fmt::format("{}: {} bytes follow byte {}, FNV-1a 64 {:016x}\n", opening, length,
                       seal_size, sum);
}

}  // namespace

void seal_hdf5(const std::filesystem::path& path) {
    std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
    const std::string line = seal_of(file);
    file.seekp(0);
    file << line << std::flush;
    if (!file)
        throw Error(path.string(), "the file cannot be finished",
                    "check that the disk has room and that the folder may be written");
}

void require_unbroken_seal(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::string line(seal_size, '\0');
    file.read(line.data(), seal_size);
    line.resize(static_cast<std::size_t>(file.gcount()));
    file.clear();
    if (!line.starts_with(opening)) return;
    if (!line.starts_with(seal_of(file)))
        throw Error(path.string(), "the file is cut short, damaged or was changed by hand",
                    "write it again with the same command, or restore it from a copy");
}

}  // namespace boxroom
