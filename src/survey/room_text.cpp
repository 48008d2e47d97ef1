#include "survey/room_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "room_file/toml_text.hpp"
#include "solvers/floor_outline.hpp"
#include "solvers/room.hpp"

namespace boxroom {
namespace {

/// A surface with the window and the door that are in it.
std::string with_parts(const std::string& surface, const std::vector<const DrawnPart*>& parts) {
    if (parts.empty()) return surface;
    std::string out = "[" + surface;
    for (const DrawnPart* part : parts)
        out += fmt::format(", {{ made_of = {}, area = \"{:.2f} m2\" }}",
                           toml_string(part->construction), part->area);
    return out + "]";
}

std::vector<const DrawnPart*> parts_in(const DrawnRoom& room, int wall) {
    std::vector<const DrawnPart*> in;
    for (const DrawnPart& part : room.parts)
        if (part.wall == wall) in.push_back(&part);
    return in;
}

std::string rectangle_walls(const DrawnRoom& room) {
    std::string out;
    for (int wall = left_wall; wall <= back_wall; ++wall)
        out += fmt::format("{} = {}\n", wall_names[wall],
                           with_parts(room.surfaces[wall], parts_in(room, wall)));
    return out;
}

/// Each edge as the wall that looks its way; windows and doors in the longest of these.
std::string edge_walls(const DrawnRoom& room) {
    const auto& corners = room.outline;
    std::string out;
    for (std::size_t n = 0; n < corners.size(); ++n) {
        const int wall = wall_of_edge(corners, n);
        bool longest = true;
        for (std::size_t m = 0; m < corners.size(); ++m) {
            if (wall_of_edge(corners, m) != wall) continue;
            const double other = edge_length(corners, m), own = edge_length(corners, n);
            longest = longest && (other < own || (other == own && m >= n));
        }
        out += fmt::format(
            "edge_{} = {}\n", n + 1,
            longest ? with_parts(room.surfaces[wall], parts_in(room, wall)) : room.surfaces[wall]);
    }
    return out;
}

std::string shape(const DrawnRoom& room) {
    if (room.outline.empty())
        return fmt::format("width = \"{:.2f} m\"\nlength = \"{:.2f} m\"\n", room.width,
                           room.length);
    std::string corners;
    for (const Point& p : room.outline)
        corners +=
            fmt::format("{}[\"{:.2f} m\", \"{:.2f} m\"]", corners.empty() ? "" : ", ", p.x, p.y);
    return "floor_plan = [" + corners + "]\n";
}

}  // namespace

std::string room_text(const Survey& survey, const DrawnRoom& room) {
    std::string out =
        fmt::format("title = {}\n\n[room]\n",
                    toml_string(fmt::format("Room {} of {}", room.number,
                                            survey.title.empty() ? "a survey" : survey.title))) +
        shape(room) + fmt::format("height = \"{:.2f} m\"\n", room.height);
    if (!room.contents.empty()) out += "contents = " + toml_string(room.contents) + "\n";
    out += "\n[walls]\n" + (room.outline.empty() ? rectangle_walls(room) : edge_walls(room));
    out += fmt::format("floor = {}\nceiling = {}\n", room.surfaces[floor_wall],
                       room.surfaces[ceiling_wall]);
    out += fmt::format(
        "\n[driver]\nname = {}\nfs = \"{:.1f} Hz\"\nqts = {:.3f}\nvas = \"{:.1f} L\"\n",
        toml_string(survey.drivers[room.driver].name), room.fs, room.qts, 1e3 * room.vas);
    for (std::size_t n = 0; n < room.seats.size(); ++n)
        out += fmt::format(
            "\n[[seat]]\nname = \"seat {}\"\nat = [\"{:.2f} m\", \"{:.2f} m\", \"{:.2f} m\"]\n",
            n + 1, room.seats[n].x, room.seats[n].y, room.seats[n].z);
    // No draws of uncertain inputs: the population is the doubt.
    out += "\n[search]\nsubs = [";
    for (std::size_t n = 0; n < survey.counts.size(); ++n)
        out += (n ? ", " : "") + std::to_string(survey.counts[n]);
    out += "]\n\n[robustness]\ndraws = 0\n\n[box]\n";
    if (survey.sweep)
        out += fmt::format("sweep = {{ qtc = [{}, {}], steps = {} }}\n",
                           std::max(survey.sweep->low, std::ceil(105 * room.qts) / 100),
                           survey.sweep->high, survey.sweep->steps);
    return out + survey.box + "\n" + survey.tables;
}

}  // namespace boxroom
