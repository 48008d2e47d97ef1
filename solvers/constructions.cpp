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

// The books in which the 125 Hz tables stand.
const std::string maluski =
    "Maluski & Gibbs, Applied Acoustics 65, 2004, rooms and laboratory below 100 Hz: ";
const std::string test_room =
    "the same fitted to an empty heavy room (\"Sound absorption at low frequencies: modelling a "
    "test room\", Building Acoustics 13(2), 141-158, 2006)";
const std::string barron = "Barron, Industrial Noise Control and Acoustics, 2003, App. D: ";
const std::string self_surfaces = "Self et al., Audio Engineering: Know It All, 2009, Table 3.4: ";
const std::string self_panels = "Self et al., Audio Engineering: Know It All, 2009, Table 29.3: ";
const std::string everest =
    "Everest, Master Handbook of Acoustics, worked example on reverberation: ";
const std::string cox = "Cox & D'Antonio, Acoustic Absorbers and Diffusers, App. A: ";
const std::string no_author = "125 Hz tables without an author: ";

/// A value at 125 Hz of these books, held below.
Construction tabled(const char* name, double absorption, double low, double high,
                    const std::string& source, const char* extrapolated = held) {
    return {name, absorption, {}, source, extrapolated, AbsorptionKnown::tabled_at_125_hz,
            low,  high};
}

/// A heavy construction: as heavy rooms measure below 100 Hz, whatever a table says at 125 Hz.
Construction heavy(const char* name, double high, const std::string& at_125) {
    const std::string source = maluski + "heavy rooms behave like 0.02; " + test_room;
    return {name, 0.02,
            {},   source + (at_125.empty() ? "" : ". At 125 Hz: " + at_125),
            "",   AbsorptionKnown::measured_below_100_hz,
            0.01, high};
}

std::vector<Construction> heavy_walls() {
    return {heavy("brick, plastered", 0.04,
                  barron + "plaster on tile or brick 0.013; " + no_author +
                      "lime plaster on masonry 0.02, plaster on a solid wall 0.04"),
            heavy("brick, bare", 0.04, barron + "brick unglazed 0.03, painted 0.01"),
            heavy("heavy masonry", 0.04, ""),
            heavy("concrete", 0.04, barron + "poured concrete 0.01; " + everest + "concrete 0.01"),
            heavy("concrete block, painted", 0.10, barron + "painted concrete block 0.10"),
            heavy("tiles on concrete", 0.04, barron + "marble or terrazzo 0.01")};
}

std::vector<Construction> light_walls() {
    // Two walls are a damped mass M on the air spring K = rho c^2/depth of the cavity behind it.
    // Their resistance fits the table at 125 and 250 Hz.
    const Branch board_on_studs{5300, 7.8, 1.594e6};  // 1/2 in board, 89 mm: resonance 72 Hz
    const Branch hung_board{9300, 9.0, 7.09e5};       // 12.5 mm board, 200 mm: resonance 45 Hz
    return {
        {"plasterboard on studs", 0, board_on_studs,
         everest + "1/2 in gypsum board on frame 0.29, 250 Hz 0.10; " + no_author +
             "on 50 mm battens 0.29, before 100 mm of air 0.30, 0.08 with glass wool behind it; "
             "board 7.8 kg/m2 (from memory) on an 89 mm air spring",
         sprung, AbsorptionKnown::tabled_at_125_hz, 0.08, 0.30},
        tabled("plasterboard on studs, glass wool behind", 0.08, 0.04, 0.16,
               no_author + "plasterboard on a frame with glass wool behind it 0.08"),
        tabled("plasterboard on studs, double", 0.15, 0.08, 0.30,
               no_author + "double plasterboard on a steel frame 0.15"),
        {"timber frame, plastered",
         0.15,
         {},
         maluski + "plastered timber frame like 0.15",
         "",
         AbsorptionKnown::measured_below_100_hz,
         0.08,
         0.30},
        tabled("plaster on lath", 0.14, 0.07, 0.28, barron + "smooth plaster on lath 0.14"),
        tabled("wood panelling", 0.28, 0.14, 0.56, "3/8 in plywood panelling 0.28 (from memory)"),
        {"suspended ceiling", 0, hung_board,
         self_panels + "plasterboard over a deep air space 0.20; board 9 kg/m2 on a 200 mm air "
                       "spring (assumed)",
         sprung, AbsorptionKnown::tabled_at_125_hz, 0.10, 0.40}};
}

std::vector<Construction> parts_and_coverings() {
    return {
        tabled("window glass", 0.18, 0.10, 0.35,
               no_author + "large panes of heavy plate glass 0.18, ordinary window glass 0.35; " +
                   self_panels + "6 mm 0.10"),
        tabled("window glass, single", 0.30, 0.18, 0.35,
               self_panels + "4 mm 0.30; " + no_author + "ordinary window glass 0.35"),
        tabled("window glass, double", 0.10, 0.05, 0.20,
               "double glazing 0.10 (from memory); " + self_panels + "a 6 mm pane 0.10"),
        tabled("solid door", 0.10, 0.05, 0.20, barron + "solid wood panel door 0.10"),
        tabled("wood floor on joists", 0.15, 0.08, 0.30, no_author + "wood floor 0.15"),
        tabled("parquet on concrete", 0.04, 0.02, 0.08,
               no_author + "parquet in asphalt on concrete 0.04"),
        tabled("carpet on concrete", 0.02, 0.01, 0.04,
               self_surfaces + "heavy carpet on concrete 0.02; " + cox + "the same", held_porous),
        tabled("heavy curtain", 0.14, 0.07, 0.28,
               self_surfaces + "heavy velour draped to half its area 0.14; " + cox + "the same",
               held_porous)};
}

std::vector<Construction> table_of_constructions() {
    std::vector<Construction> all = heavy_walls();
    for (const auto& more : {light_walls(), parts_and_coverings()})
        all.insert(all.end(), more.begin(), more.end());
    return all;
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
    static const std::vector<Construction> table = table_of_constructions();
    return table;
}

const Construction& find_construction(std::string_view name) {
    const std::string asked = lower(name);
    for (const Construction& c : constructions())
        if (c.name == asked) return c;
    throw Error("", "there is no construction named \"" + std::string(name) + "\"",
                suggestions(asked) + " A coefficient works too: { absorption = 0.05 }");
}

bool rests_on_a_name(std::string_view description) {
    for (const Construction& construction : constructions())
        if (description.find(construction.name) != std::string_view::npos) return true;
    return false;
}

Wall wall_from_construction(const Construction& construction, const Air& air) {
    if (construction.absorption > 0) return wall_from_absorption(construction.absorption, air);
    return {{construction.branch}};
}

}  // namespace boxroom
