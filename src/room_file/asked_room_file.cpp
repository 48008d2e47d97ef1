#include "room_file/asked_room_file.hpp"

#include <fmt/format.h>

#include "room_file/toml_text.hpp"
#include "solvers/room.hpp"

namespace boxroom {

namespace {

/// What the wall is made of, then the window and the door in it.
std::string wall_toml(const RoomAnswers::Wall& wall) {
    std::string parts;
    const auto add = [&](const char* made_of, const std::string& area) {
        if (!area.empty())
            parts += fmt::format(", {{ made_of = \"{}\", area = {} }}", made_of, toml_string(area));
    };
    add("window glass, double", wall.window);
    add("solid door", wall.door);
    const std::string first = toml_string(wall.construction);
    return parts.empty() ? first : '[' + first + parts + ']';
}

std::string line(const std::string& key, const std::string& value, const char* remark) {
    const std::string start = key + " = " + value;
    return remark[0] ? fmt::format("{:<32} # {}\n", start, remark) : start + "\n";
}

std::string pair(const std::string& x, const std::string& y) {
    return '[' + toml_string(x) + ", " + toml_string(y) + ']';
}

/// The outline of an L, round from the front left corner, and which wall each edge belongs to; 4:
/// one of the two beside the corner that lacks.
struct Outline {
    std::vector<std::string> corners;
    std::vector<std::size_t> walls;
};

Outline outline_of(const RoomAnswers& a) {
    const auto& lacks = a.missing;
    const std::string nought = a.imperial ? "0 ft" : "0 m";
    // What lies beside the missing corner, from the left and from the front wall.
    const std::string x = lacks.right ? lacks.rest_width : lacks.width;
    const std::string y = lacks.back ? lacks.rest_length : lacks.length;
    struct Turn {
        bool right, back;
        std::size_t wall;  ///< that follows
    };
    Outline out;
    for (const Turn turn : {Turn{false, false, front_wall}, Turn{true, false, right_wall},
                            Turn{true, true, back_wall}, Turn{false, true, left_wall}}) {
        const std::string at_x = turn.right ? a.width : nought;
        const std::string at_y = turn.back ? a.length : nought;
        if (turn.right != lacks.right || turn.back != lacks.back) {
            out.corners.push_back(pair(at_x, at_y));
            out.walls.push_back(turn.wall);
            continue;
        }
        // Along the wall that comes in, round the missing corner, on along the next.
        const bool comes_along_y = turn.wall == front_wall || turn.wall == back_wall;
        out.corners.push_back(comes_along_y ? pair(at_x, y) : pair(x, at_y));
        out.corners.push_back(pair(x, y));
        out.corners.push_back(comes_along_y ? pair(x, at_y) : pair(at_x, y));
        out.walls.insert(out.walls.end(), {4, 4, turn.wall});
    }
    return out;
}

/// [room] and [walls]: a rectangle by its sides, an L by its corners.
std::string room_toml(const RoomAnswers& a) {
    const bool rectangle = a.missing.width.empty();
    const std::string height =
        line("height", toml_string(a.height), "z, from the floor") +
        line("contents", toml_string(a.contents), "or bare, sparse, furnished, soft");
    std::string out = "\n[room]\n";
    if (rectangle) {
        out += line("width", toml_string(a.width), "x, from the left wall") +
               line("length", toml_string(a.length), "y, from the front wall") + height +
               "\n[walls]\n";
        for (std::size_t n = 0; n < a.walls.size(); ++n)
            out += line(std::string(wall_names[n]), wall_toml(a.walls[n]), "");
        return out;
    }
    const Outline outline = outline_of(a);
    out += "# The corners of the floor, going round from the front left.\n" +
           line("floor_plan", fmt::format("[{}]", fmt::join(outline.corners, ", ")), "") + height +
           "\n[walls]                          # edge_1 runs from the first corner to the second\n";
    for (std::size_t n = 0; n < outline.walls.size(); ++n) {
        const std::size_t wall = outline.walls[n];
        out += line(
            fmt::format("edge_{}", n + 1),
            wall == 4 ? toml_string(a.walls[left_wall].construction) : wall_toml(a.walls[wall]),
            wall == 4 ? "beside the corner that lacks: taken as the left wall is made"
                      : wall_names[wall]);
    }
    return out + line("floor", wall_toml(a.walls[floor_wall]), "") +
           line("ceiling", wall_toml(a.walls[ceiling_wall]), "");
}

std::string driver_toml(const RoomAnswers& a) {
    std::string out =
        "\n# From the data sheet. With sd, re and qes (or bl, mms) too the levels are absolute.\n"
        "[driver]\n" +
        line("fs", toml_string(a.fs), "resonance in free air") + line("qts", a.qts, "total Q") +
        line("vas", toml_string(a.vas), "air as stiff as the suspension");
    if (!a.sd.empty()) out += line("sd", toml_string(a.sd), "area of the cone");
    if (!a.re.empty()) out += line("re", toml_string(a.re), "resistance of the coil");
    if (!a.qes.empty()) out += line("qes", a.qes, "electrical Q");
    if (!a.xmax.empty()) out += line("xmax", toml_string(a.xmax), "travel of the cone one way");
    if (!a.power.empty()) out += line("power", toml_string(a.power), "that it takes");
    return out;
}

std::string keep_outs_toml(const RoomAnswers& a) {
    if (a.keep_outs.empty())
        return "\n# Floor where no box may stand: take the # away, one [[keep_out]] for each.\n"
               "# [[keep_out]]\n# name = \"door swing\"\n" +
               std::string(a.imperial
                               ? "# from = [\"9 ft\", \"12 ft\"]\n# to = [\"12 ft\", \"15 ft\"]\n"
                               : "# from = [\"3.0 m\", \"4.0 m\"]     # x, y\n"
                                 "# to = [\"3.9 m\", \"4.9 m\"]\n");
    std::string out;
    for (const RoomAnswers::KeepOut& k : a.keep_outs)
        out += "\n[[keep_out]]                     # no box stands here\n" +
               line("name", toml_string(k.name), "") + line("from", pair(k.x0, k.y0), "x, y") +
               line("to", pair(k.x1, k.y1), "");
    return out;
}

}  // namespace

std::string asked_room_file(const RoomAnswers& a) {
    const char* units = a.imperial ? " --units imperial" : "";
    std::string out = fmt::format(
        "# A room file, written from your answers by `boxroom new --ask`; change what you like.\n"
        "# See `boxroom check THIS{0}`, then `boxroom plan THIS{0}`.\n"
        "# x runs from the left wall, y from the front wall (the one the listeners face), z from "
        "the floor.\n"
        "# `boxroom new OTHER.toml` writes a file that shows every key there is.\n",
        units);
    out += line("title", toml_string(a.title), "");
    out += room_toml(a) + driver_toml(a);
    out += "\n[box]\n" +
           line("volume", toml_string(a.volume), "net, near Qtc 0.7; plan tries many") +
           line("filling", "1.15", "apparent gain: 1 empty, 1.10 to 1.30 filled");
    for (const RoomAnswers::Seat& seat : a.seats)
        out += "\n[[seat]]\n" + line("name", toml_string(seat.name), "") +
               line("at",
                    fmt::format("[{}, {}, {}]", toml_string(seat.x), toml_string(seat.y),
                                toml_string(seat.z)),
                    "");
    out += std::string(
               "\n[[sub]]                          # for listen and map; plan looks for "
               "the place itself\n") +
           line("name", toml_string(a.sub_name), "") +
           fmt::format("at = [{}, {}]\n",
                       toml_string(!a.sub_x.empty() ? a.sub_x
                                   : a.imperial     ? "16 in"
                                                    : "0.40 m"),
                       a.imperial ? "\"16 in\", \"9 in\"" : "\"0.40 m\", \"0.22 m\"");
    out += std::string("\n[spots]                          # where plan may put the box\n") +
           (a.imperial ? "step = \"4 in\"\ngap = \"2 in\"                     # box to wall\n"
                       : "step = \"0.10 m\"\ngap = \"0.05 m\"                   # box to wall\n");
    out += keep_outs_toml(a);
    return out + "\n[target]\nband = [\"20 Hz\", \"120 Hz\"]       # judged\n";
}

}  // namespace boxroom
