#include "solvers/constructions.hpp"

#include <cctype>

#include "base/error.hpp"
#include "base/spelling.hpp"

namespace boxroom {

namespace {

constexpr const char* held = "the 125 Hz value is held at all lower frequencies";
constexpr const char* held_porous =
    "the 125 Hz value is held below; a porous layer really absorbs less there";
constexpr const char* sprung =
    "below 125 Hz the damped mass on its air spring decides, not a table";

Construction resistive(const char* name, double absorption, const char* source,
                       const char* extrapolated) {
    return {name, absorption, {}, source, extrapolated};
}

std::vector<Construction> build_table() {
    // Two walls are a damped mass M on the air spring K = rho c^2/depth of the cavity behind it.
    // Their resistance fits the table at 125 and 250 Hz; at 125 Hz a single mass of 8.3 kg/m2
    // cannot absorb more than 0.274, so the first one stops 0.02 short of the tabled 0.29.
    const Branch board_on_studs{5700, 8.3, 1.594e6};  // 1/2 in board, 89 mm: resonance 70 Hz
    const Branch hung_board{9300, 9.0, 7.09e5};       // 12.5 mm board, 200 mm: resonance 45 Hz
    return {
        resistive("brick, plastered", 0.01, "125 Hz tables: rendered brick 0.01", held),
        resistive("brick, bare", 0.03, "125 Hz tables: unglazed brick 0.03 (from memory)", held),
        resistive("heavy masonry", 0.02,
                  "Maluski & Gibbs 2004: heavy masonry about 0.02 at low frequencies", ""),
        resistive("concrete", 0.01, "125 Hz tables: smooth concrete 0.01 (from memory)", held),
        resistive("concrete block, painted", 0.10,
                  "125 Hz tables: concrete block, painted 0.10 (from memory)", held),
        resistive("tiles on concrete", 0.01, "125 Hz tables: glazed tile 0.01 (from memory)", held),
        {"plasterboard on studs", 0, board_on_studs,
         "125 Hz tables: 1/2 in board on 2 x 4 in studs 0.29, 250 Hz 0.10 (from memory); board "
         "8.3 kg/m2 (from memory) on an 89 mm air spring",
         sprung},
        resistive("plasterboard on studs, double", 0.15,
                  "125 Hz tables: double plasterboard on a steel frame 0.15", held),
        resistive("timber frame, plastered", 0.15,
                  "Maluski & Gibbs 2004: plastered timber frame about 0.15 below 100 Hz", ""),
        resistive("wood panelling", 0.28,
                  "125 Hz tables: 3/8 in plywood panelling 0.28 (from memory)", held),
        resistive(
            "window glass", 0.18,
            "125 Hz tables: large panes of heavy glass 0.18 (from memory); tables spread from "
            "0.08 to 0.30",
            held),
        resistive("window glass, thin", 0.30, "125 Hz tables: 4 mm glass 0.30 (from memory)", held),
        resistive("window glass, double", 0.10, "125 Hz tables: double glazing 0.10 (from memory)",
                  held),
        resistive("solid door", 0.10, "125 Hz tables: solid door 0.10", held),
        resistive("wood floor on joists", 0.15, "125 Hz tables: wood floor on joists 0.15", held),
        resistive("parquet on concrete", 0.04,
                  "125 Hz tables: wood parquet on concrete 0.04 (from memory)", held),
        resistive("carpet on concrete", 0.02,
                  "125 Hz tables: heavy carpet on concrete 0.02 (from memory)", held_porous),
        {"suspended ceiling", 0, hung_board,
         "125 Hz tables: plaster or plasterboard ceiling below a large air space 0.20 (from "
         "memory); "
         "board 9 kg/m2 on a 200 mm air spring (assumed)",
         sprung},
        resistive("heavy curtain", 0.14,
                  "125 Hz tables: heavy velour draped to half its area 0.14 (from memory)",
                  held_porous),
    };
}

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return out;
}

/// Names that contain what was written ("brick"), else the one nearest in spelling, else all.
std::string suggestions(const std::string& asked) {
    std::vector<std::string> names;
    for (const Construction& c : constructions()) names.push_back(c.name);
    const auto join = [](const std::vector<std::string>& list) {
        std::string out;
        for (const std::string& name : list) out += (out.empty() ? "\"" : " or \"") + name + "\"";
        return out;
    };
    std::vector<std::string> found;
    for (const std::string& name : names)
        if (asked.size() >= 3 && name.find(asked) != std::string::npos) found.push_back(name);
    if (!found.empty()) return "did you mean " + join(found) + "?";
    const std::string nearest = nearest_word(asked, names);
    return nearest.empty() ? "choose " + join(names) + "." : "did you mean \"" + nearest + "\"?";
}

}  // namespace

const std::vector<Construction>& constructions() {
    static const std::vector<Construction> table = build_table();
    return table;
}

const Construction& find_construction(std::string_view name) {
    const std::string asked = lower(name);
    for (const Construction& c : constructions())
        if (c.name == asked) return c;
    throw Error("", "there is no construction named \"" + std::string(name) + "\"",
                suggestions(asked) + " A coefficient works too: { absorption = 0.05 }");
}

Wall wall_from_construction(const Construction& construction, const Air& air) {
    if (construction.absorption > 0) return wall_from_absorption(construction.absorption, air);
    return {{construction.branch}};
}

}  // namespace boxroom
