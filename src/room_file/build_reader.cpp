// [build]: how the box is made.
#include <algorithm>
#include <cmath>

#include "base/spelling.hpp"
#include "room_file/scenario_reader.hpp"

namespace boxroom {

/// Volumes of what stands in the box; each given, or by its rule. An [box] extra_volume is their
/// sum and then stands alone.
void ScenarioReader::read_bodies(TableReader& build, bool sum_given) {
    const Limits body{0, 1, "between 0 L and 1000 L"};
    EnclosureRules& e = s_.design.enclosure;
    e.itemised = !sum_given;
    e.bodies.driver = driver_displacement(s_.design.driver.sd);
    e.bodies.amplifier = amplifier_displacement(s_.design.amplifier.power);
    const auto driver = build.optional("driver_volume", Quantity::volume, body);
    const auto amplifier = build.optional("amplifier_volume", Quantity::volume, body);
    e.bodies.bracing = build.optional("bracing_volume", Quantity::volume, body);
    if (driver) e.bodies.driver = {*driver, 0, "as given"};
    if (amplifier) e.bodies.amplifier = {*amplifier, 0, "as given"};
    for (const char* key : {"driver_volume", "amplifier_volume", "bracing_volume"})
        if (sum_given && build.has(key))
            build.fault(key,
                        std::string("[build] ") + key +
                            " is a part of [box] extra_volume, and both are given",
                        "leave out [box] extra_volume, or this");
    e.bodies.braces = build.whole_number("braces", 0, 8).value_or(e.bodies.braces);
    e.bodies.cleats = build.yes_or_no("cleats").value_or(e.bodies.cleats);
}

void ScenarioReader::read_material(TableReader& build) {
    BuildRules& b = s_.design.build;
    if (const auto name = build.text("material")) {
        if (const Material* material = find_material(*name)) {
            b.material = *material;
        } else {
            std::vector<std::string> names;
            std::string all;
            for (const Material& m : materials()) {
                names.push_back(m.name);
                all += (all.empty() ? "" : ", ") + m.name;
            }
            const std::string nearest = nearest_word(*name, names);
            build.fault("material", "[build] material \"" + *name + "\" is not known",
                        (nearest.empty() ? "" : "did you mean \"" + nearest + "\"? ") +
                            "known: " + all + "; or give the nearest and its density");
        }
    }
    if (const auto density = build.optional("density", Quantity::density,
                                            {50, 3000, "between 50 kg/m3 and 3000 kg/m3"})) {
        b.material.density = *density;
        b.material.source = "density as given";
    }
    if (const auto joint = build.text("joint")) {
        if (*joint != "butt" && *joint != "mitred")
            build.fault("joint", "[build] joint is \"" + *joint + "\"",
                        "write \"butt\" or \"mitred\"");
        b.mitred = *joint == "mitred";
    }
    s_.design.enclosure.double_front =
        build.yes_or_no("double_front").value_or(s_.design.enclosure.double_front);
}

void ScenarioReader::read_sheet(TableReader& build) {
    BuildRules& b = s_.design.build;
    if (const auto sheet =
            build.numbers("sheet", Quantity::length, 2, {0.1, 10, "between 10 cm and 10 m"})) {
        b.sheet_length = std::max((*sheet)[0], (*sheet)[1]);
        b.sheet_width = std::min((*sheet)[0], (*sheet)[1]);
    }
    b.kerf =
        build.number("kerf", Quantity::length, {0, 0.02, "between 0 mm and 20 mm"}, b.kerf).value;
    b.grain = build.yes_or_no("grain").value_or(b.grain);
}

void ScenarioReader::read_build() {
    TableReader build = root_.table("build", "[build]");
    TableReader box = root_.table("box", "[box]");
    read_material(build);
    read_sheet(build);
    read_bodies(build, box.has("extra_volume"));
    BuildRules& b = s_.design.build;
    const Limits hole{0.02, 1.5, "between 20 mm and 1.5 m"};
    s_.design.enclosure.cut_out = build.optional("driver_cut_out", Quantity::length, hole);
    b.driver_frame = build.optional("driver_frame", Quantity::length, hole);
    s_.design.enclosure.driver_depth =
        build.optional("driver_depth", Quantity::length, {0.01, 1, "between 10 mm and 1 m"});
    if (b.driver_frame && s_.design.enclosure.cut_out &&
        *b.driver_frame <= *s_.design.enclosure.cut_out)
        build.fault("driver_frame", "[build] driver_frame is not wider than driver_cut_out",
                    "the frame is the driver's outer diameter, the hole the one it drops into");
    if (const auto sides = build.numbers("amplifier_cut_out", Quantity::length, 2, hole))
        s_.design.enclosure.amplifier_cut_out = {(*sides)[0], (*sides)[1]};
    const Limits mass{0.01, 200, "between 10 g and 200 kg"};
    b.driver_mass = build.optional("driver_mass", Quantity::mass, mass);
    b.amplifier_mass = build.optional("amplifier_mass", Quantity::mass, mass);
    b.filling_density = build
                            .number("filling_density", Quantity::density,
                                    {1, 200, "between 1 kg/m3 and 200 kg/m3"}, b.filling_density)
                            .value;
    b.crossover = build.optional("crossover", Quantity::frequency, audible);
    build.close();
    // A height limit shapes the box only where the file does not.
    if (!box.has("proportions"))
        s_.design.enclosure.tallest =
            std::min(s_.wanted.spots.tallest,
                     room_known_ ? s_.acoustics.room.height : s_.wanted.spots.tallest);
}

}  // namespace boxroom
