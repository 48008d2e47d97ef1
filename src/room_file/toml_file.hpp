#pragma once
#include <toml++/toml.h>

#include <filesystem>
#include <string>

namespace boxroom {

/// A kind of file that people write in TOML: what messages call it, and how one comes by one.
struct TomlKind {
    const char* what;
    const char* begin;
};

/// The bytes of such a file, up to one more than room_file_bounds allow. Throws Error for a folder,
/// a device, or what cannot be read.
std::string read_toml_text(const std::filesystem::path& path, const TomlKind& kind);
/// Throws Error with its line for an empty text, one that is out of bounds, and what is no TOML;
/// `name` stands for the file in messages.
toml::table parse_toml(const std::string& text, const std::string& name, const TomlKind& kind);

}  // namespace boxroom
