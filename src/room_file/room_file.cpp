#include "room_file/room_file.hpp"

#include "room_file/scenario_reader.hpp"
#include "room_file/toml_file.hpp"

namespace boxroom {

static constexpr TomlKind kind{"room file", "write one to start from with `boxroom new FILE`"};

Scenario parse_room_file(const std::string& text, const std::string& name) {
    Scenario scenario = read_scenario(parse_toml(text, name, kind), name);
    scenario.source_text = text;
    return scenario;
}

Scenario read_room_file(const std::filesystem::path& path) {
    return parse_room_file(read_toml_text(path, kind), path.string());
}

}  // namespace boxroom
