#include "room_file/toml_file.hpp"

#include <algorithm>
#include <fstream>
#include <string_view>
#include <system_error>

#include "base/error.hpp"
#include "room_file/toml_bounds.hpp"

namespace boxroom {

std::string read_toml_text(const std::filesystem::path& path, const TomlKind& kind) {
    const std::string what = kind.what;
    std::error_code trouble;
    const auto type = std::filesystem::status(path, trouble).type();
    if (type == std::filesystem::file_type::directory)
        throw Error(path.string(), "this is a folder, not a " + what, "name the file in it");
    // A pipe may never say anything, and a device never stop.
    if (type != std::filesystem::file_type::regular && std::filesystem::exists(path, trouble))
        throw Error(path.string(), "this is a device or a pipe, not a " + what,
                    "write the room to a file and name that");
    std::ifstream file(path, std::ios::binary);
    if (!file)
        throw Error(path.string(), "the " + what + " is missing or cannot be read",
                    std::string("check the name, or ") + kind.begin);
    std::string text(room_file_bounds::bytes + 1, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(file.gcount()));
    return text;
}

toml::table parse_toml(const std::string& text, const std::string& name, const TomlKind& kind) {
    if (text.find_first_not_of(" \t\r\n") == std::string::npos)
        throw Error(name + ":1", "the file is empty", kind.begin);
    require_within_bounds(text, name);
    try {
        return toml::parse(std::string_view(text), std::string_view(name));
    } catch (const toml::parse_error& error) {
        const int line = std::max(1, static_cast<int>(error.source().begin.line));
        throw Error(
            name + ':' + std::to_string(line),
            "this is not TOML: " + std::string(error.description()),
            "text and numbers with units stand in \"quotes\", tables in [brackets], each key "
            "once");
    }
}

}  // namespace boxroom
