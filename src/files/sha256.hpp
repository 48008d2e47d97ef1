#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace boxroom {

/// SHA-256 (FIPS 180-4) of the bytes as 64 lower-case hexadecimal digits. OpenSSL's libcrypto works
/// it out: Apache-2.0, kept up for decades, and already loaded with libhdf5.
std::string sha256(std::string_view bytes);
/// Of pieces one after another.
std::string sha256(const std::vector<std::string_view>& pieces);
/// The same of a regular file, read in pieces; nothing if there is none or it cannot be read.
std::optional<std::string> sha256_of_file(const std::filesystem::path& path);

}  // namespace boxroom
