#include "app/planned_here.hpp"

#include <filesystem>

#include "base/error.hpp"
#include "files/manifest.hpp"
#include "room_file/room_file.hpp"

namespace boxroom {

std::optional<Scenario> planned_here(const Session& session) {
    const auto plan = session.folder() / "plan.h5", file = session.folder() / "planned.toml";
    std::error_code none;
    if (!std::filesystem::exists(plan, none) || !std::filesystem::exists(file, none) ||
        !is_listed(plan) || !is_listed(file))
        return std::nullopt;
    try {
        require_as_listed(plan), require_as_listed(file);
        if (read_input_text(plan) != session.scenario.source_text) return std::nullopt;
        return read_room_file(file);
    } catch (const Error&) {
        return std::nullopt;  // whatever it is, it is no plan of this text
    }
}

}  // namespace boxroom
