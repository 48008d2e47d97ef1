#include "room_file/build_reader.hpp"

#include <algorithm>
#include <cmath>

#include "base/spelling.hpp"

namespace boxroom {

namespace {

/// Volumes of what stands in the box; each given, or by its rule. An [box] extra_volume is their
/// sum and then stands alone.
void read_bodies(TableReader& build, bool sum_given, const ReadContext& context,
                 EnclosureRules& e) {
    const Limits body{0, 1, "between 0 L and 1000 L"};
    e.itemised = !sum_given;
    e.bodies.driver = driver_displacement(context.driver.sd);
    e.bodies.amplifier = amplifier_displacement(context.amplifier.power);
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

void read_material(TableReader& build, Design& design) {
    BuildRules& b = design.build;
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
    design.enclosure.double_front =
        build.yes_or_no("double_front").value_or(design.enclosure.double_front);
}

void read_sheet(TableReader& build, BuildRules& b) {
    if (const auto sheet =
            build.numbers("sheet", Quantity::length, 2, {0.1, 10, "between 10 cm and 10 m"})) {
        b.sheet_length = std::max((*sheet)[0], (*sheet)[1]);
        b.sheet_width = std::min((*sheet)[0], (*sheet)[1]);
    }
    b.kerf =
        build.number("kerf", Quantity::length, {0, 0.02, "between 0 mm and 20 mm"}, b.kerf).value;
    b.grain = build.yes_or_no("grain").value_or(b.grain);
}

}  // namespace

void read_build(TableReader& file, const ReadContext& context, double tallest, Design& design) {
    TableReader build = file.table("build", "[build]");
    TableReader box = file.table("box", "[box]");
    BuildRules& b = design.build;
    read_material(build, design);
    read_sheet(build, b);
    read_bodies(build, box.has("extra_volume"), context, design.enclosure);
    const Limits hole{0.02, 1.5, "between 20 mm and 1.5 m"};
    design.enclosure.cut_out = build.optional("driver_cut_out", Quantity::length, hole);
    b.driver_frame = build.optional("driver_frame", Quantity::length, hole);
    design.enclosure.driver_depth =
        build.optional("driver_depth", Quantity::length, {0.01, 1, "between 10 mm and 1 m"});
    if (b.driver_frame && design.enclosure.cut_out && *b.driver_frame <= *design.enclosure.cut_out)
        build.fault("driver_frame", "[build] driver_frame is not wider than driver_cut_out",
                    "the frame is the driver's outer diameter, the hole the one it drops into");
    if (const auto sides = build.numbers("amplifier_cut_out", Quantity::length, 2, hole))
        design.enclosure.amplifier_cut_out = {(*sides)[0], (*sides)[1]};
    const Limits mass{0.01, 200, "between 10 g and 200 kg"};
    b.driver_mass = build.optional("driver_mass", Quantity::mass, mass);
    b.amplifier_mass = build.optional("amplifier_mass", Quantity::mass, mass);
    b.filling_density = build
                            .number("filling_density", Quantity::density,
                                    {1, 200, "between 1 kg/m3 and 200 kg/m3"}, b.filling_density)
                            .value;
    if (const toml::node* old = build.find("crossover"))
        build.fault("crossover", "[build] has no crossover: the file's one crossover is a table",
                    "write [crossover] with frequency = " + as_written(*old));
    build.close();
    // A height limit shapes the box only where the file does not.
    if (!box.has("proportions"))
        design.enclosure.tallest =
            context.room_known ? std::min(tallest, context.room.height) : tallest;
}

}  // namespace boxroom
