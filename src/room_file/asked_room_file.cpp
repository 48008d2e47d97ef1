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

}  // namespace

std::string asked_room_file(const RoomAnswers& a) {
    const auto line = [](const std::string& key, const std::string& value, const char* remark) {
        const std::string start = key + " = " + value;
        return remark[0] ? fmt::format("{:<32} # {}\n", start, remark) : start + "\n";
    };
    const char* units = a.imperial ? " --units imperial" : "";
    std::string out = fmt::format(
        "# A room file, written from your answers by `boxroom new --ask`; change what you like.\n"
        "# See `boxroom check THIS{0}`, then `boxroom plan THIS{0}`.\n"
        "# x runs from the left wall, y from the front wall (the one the listeners face), z from "
        "the floor.\n"
        "# `boxroom new OTHER.toml` writes a file that shows every key there is.\n",
        units);
    out += line("title", toml_string(a.title), "");
    out += "\n[room]\n" + line("width", toml_string(a.width), "x, from the left wall") +
           line("length", toml_string(a.length), "y, from the front wall") +
           line("height", toml_string(a.height), "z, from the floor") +
           line("contents", toml_string(a.contents), "or bare, sparse, furnished, soft");
    out += "\n[walls]\n";
    for (std::size_t n = 0; n < a.walls.size(); ++n)
        out += line(std::string(wall_names[n]), wall_toml(a.walls[n]), "");
    out +=
        "\n# From the data sheet. With sd, re and qes (or bl, mms) too the levels are absolute.\n"
        "[driver]\n" +
        line("fs", toml_string(a.fs), "resonance in free air") + line("qts", a.qts, "total Q") +
        line("vas", toml_string(a.vas), "air as stiff as the suspension");
    if (!a.sd.empty()) out += line("sd", toml_string(a.sd), "area of the cone");
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
               "the place itself\nname = \"front left corner\"\n") +
           (a.imperial ? "at = [\"16 in\", \"16 in\", \"9 in\"]\n"
                       : "at = [\"0.40 m\", \"0.40 m\", \"0.22 m\"]\n");
    out += std::string("\n[spots]                          # where plan may put the box\n") +
           (a.imperial ? "step = \"4 in\"\ngap = \"2 in\"                     # box to wall\n"
                       : "step = \"0.10 m\"\ngap = \"0.05 m\"                   # box to wall\n");
    out +=
        "\n# Floor where no box may stand: take the # away, one [[keep_out]] for each.\n"
        "# [[keep_out]]\n# name = \"door swing\"\n" +
        std::string(a.imperial ? "# from = [\"9 ft\", \"12 ft\"]\n# to = [\"12 ft\", \"15 ft\"]\n"
                               : "# from = [\"3.0 m\", \"4.0 m\"]     # x, y\n"
                                 "# to = [\"3.9 m\", \"4.9 m\"]\n");
    return out + "\n[target]\nband = [\"20 Hz\", \"120 Hz\"]       # judged\n";
}

}  // namespace boxroom
