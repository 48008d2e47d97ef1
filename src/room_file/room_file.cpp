#include "room_file/room_file.hpp"

#include <algorithm>
#include <fstream>
#include <string_view>
#include <system_error>

#include "base/error.hpp"
#include "room_file/scenario_reader.hpp"
#include "room_file/toml_bounds.hpp"

namespace boxroom {

Scenario parse_room_file(const std::string& text, const std::string& name) {
    if (text.find_first_not_of(" \t\r\n") == std::string::npos)
        throw Error(name + ":1", "the file is empty",
                    "write one to start from with `boxroom new FILE`");
    require_within_bounds(text, name);
    toml::table root;
    try {
        root = toml::parse(std::string_view(text), std::string_view(name));
    } catch (const toml::parse_error& error) {
        const int line = std::max(1, static_cast<int>(error.source().begin.line));
        throw Error(
            name + ':' + std::to_string(line),
            "this is not TOML: " + std::string(error.description()),
            "text and numbers with units stand in \"quotes\", tables in [brackets], each key "
            "once");
    }
    Scenario scenario = read_scenario(root, name);
    scenario.source_text = text;
    return scenario;
}

Scenario read_room_file(const std::filesystem::path& path) {
    std::error_code trouble;
    const auto kind = std::filesystem::status(path, trouble).type();
    if (kind == std::filesystem::file_type::directory)
        throw Error(path.string(), "this is a folder, not a room file", "name the file in it");
    // A pipe may never say anything, and a device never stop.
    if (kind != std::filesystem::file_type::regular && std::filesystem::exists(path, trouble))
        throw Error(path.string(), "this is a device or a pipe, not a room file",
                    "write the room to a file and name that");
    std::ifstream file(path, std::ios::binary);
    if (!file)
        throw Error(path.string(), "the room file is missing or cannot be read",
                    "check the name, or write one with `boxroom new FILE`");
    std::string text(room_file_bounds::bytes + 1, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(file.gcount()));
    return parse_room_file(text, path.string());
}

}  // namespace boxroom
