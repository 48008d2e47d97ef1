#include "room_file/wall_reader.hpp"

#include <algorithm>
#include <sstream>
#include <vector>

#include "solvers/constructions.hpp"

namespace boxroom {
namespace {

const char* const ways =
    "write a named construction such as \"brick, plastered\", { absorption = 0.05 }, or "
    "{ resistance = 2200, mass = 11, stiffness = 1.8e6 }";
const char* const part_example = "{ made_of = \"solid door\", area = \"1.8 m2\" }";

/// One branch R + j w M + K/(j w) from its table; leaves it open.
std::optional<Branch> read_branch(TableReader& table) {
    const Checked resistance =
        table.required("resistance", Quantity::specific_resistance, {1e-3, 1e12, "above 0 Pa s/m"});
    const Checked mass = table.number("mass", Quantity::surface_mass, {0, 1e6, "0 kg/m2 or more"});
    const Checked stiffness =
        table.number("stiffness", Quantity::specific_stiffness, {0, 1e15, "0 Pa/m or more"});
    const bool good = resistance.good && (mass.good || !table.has("mass")) &&
                      (stiffness.good || !table.has("stiffness"));
    if (!good) return std::nullopt;
    return Branch{resistance.value, mass.value, stiffness.value};
}

std::string in_words(const Branch& branch) {
    std::ostringstream text;
    text << branch.resistance << " Pa s/m";
    if (branch.mass > 0) text << ", " << branch.mass << " kg/m2";
    if (branch.stiffness > 0) text << ", " << branch.stiffness << " Pa/m";
    return text.str();
}

void read_absorption(TableReader& table, NamedWall& wall, const ReadContext& context) {
    const auto alpha =
        table.optional("absorption", Quantity::plain, {1e-6, 0.95, "above 0 and at most 0.95"});
    for (const char* other : {"resistance", "mass", "stiffness"})
        if (table.has(other))
            table.fault(other, table.title() + " has an absorption and a " + other + " too",
                        "keep one of the two ways to describe a wall");
    if (!alpha) return;
    std::ostringstream words;
    words << "absorption " << *alpha;
    wall.description = words.str();
    context.faults.attempt(table.line(), table.title(),
                           [&] { wall.wall = wall_from_absorption(*alpha, context.air); });
}

/// { absorption = } or one branch.
void read_surface(TableReader& table, NamedWall& wall, const ReadContext& context) {
    if (table.has("absorption")) {
        read_absorption(table, wall, context);
    } else if (const auto branch = read_branch(table)) {
        wall.wall.branches = {*branch};
        wall.description = in_words(*branch);
    }
    table.close();
}

void read_construction(const std::string& name, int line, const std::string& subject,
                       NamedWall& wall, const ReadContext& context) {
    context.faults.attempt(line, subject, [&] {
        const Construction& construction = find_construction(name);
        wall.wall = wall_from_construction(construction, context.air);
        wall.description = construction.name;
    });
}

/// Branches side by side.
void read_branches(const toml::array& list, const std::string& subject, NamedWall& wall,
                   const ReadContext& context) {
    for (const toml::node& element : list) {
        if (!element.is_table()) {
            context.faults.add(
                line_of(element),
                subject + " lists " + as_written(element) + " where a branch is wanted",
                "write { resistance = 2200, mass = 11, stiffness = 1.8e6 }");
            continue;
        }
        TableReader table(element.as_table(), subject, line_of(element), context.faults);
        const auto branch = read_branch(table);
        table.close();
        if (!branch) continue;
        wall.wall.branches.push_back(*branch);
        wall.description += (wall.description.empty() ? "" : " beside ") + in_words(*branch);
    }
}

bool has_parts(const toml::array& list) {
    return std::any_of(list.begin(), list.end(), [](const toml::node& element) {
        return element.is_string() || (element.is_table() && element.as_table()->contains("area"));
    });
}

/// { made_of = or the surface itself, area = }; the first may leave the area out.
void read_part(TableReader& table, bool first, NamedWall& surface, double& area,
               std::string& area_words, const ReadContext& context) {
    const toml::node* written = first ? table.find("area") : table.require("area", "\"1.8 m2\"");
    area = table.optional("area", Quantity::area, {1e-4, 1e4, "above 0 m2"}).value_or(0);
    if (written)
        area_words = written->value_exact<std::string>().value_or(as_written(*written) + " m2");
    if (const auto name = table.text("made_of")) {
        for (const char* other : {"absorption", "resistance", "mass", "stiffness"})
            if (table.has(other))
                table.fault(other, table.title() + " has a made_of and a " + other + " too",
                            "keep one of the ways to describe a part");
        read_construction(*name, table.line("made_of"), table.title(), surface, context);
        table.close();
    } else if (table.has("made_of")) {
        table.close();
    } else if (table.has("absorption") || table.has("resistance")) {
        read_surface(table, surface, context);
    } else {
        context.faults.add(table.line(), table.title() + " has a part of nothing",
                           std::string("write ") + part_example);
    }
}

/// Names and tables with areas: the first takes what the others leave.
void read_parts(const toml::array& list, const std::string& subject, double area, NamedWall& wall,
                const ReadContext& context) {
    std::vector<WallPart> parts;
    std::string others;
    bool good = true;
    for (const toml::node& element : list) {
        const int line = line_of(element);
        const bool first = parts.empty();
        NamedWall surface;
        WallPart part;
        std::string area_words;
        if (const toml::table* keys = element.as_table()) {
            TableReader table(keys, subject, line, context.faults);
            read_part(table, first, surface, part.area, area_words, context);
        } else if (const auto name = element.value_exact<std::string>(); name && first) {
            read_construction(*name, line, subject, surface, context);
        } else {
            context.faults.add(line, subject + " lists " + as_written(element) + " without an area",
                               std::string("write ") + part_example);
        }
        part.wall = surface.wall;
        part.description = surface.description;
        good = good && !surface.wall.branches.empty() && (first || part.area > 0);
        if (!first)
            others += (parts.size() == 1 ? " with " : " and ") + part.description + " (" +
                      area_words + ")";
        parts.push_back(part);
    }
    wall.description = parts[0].description + others;
    if (good && area > 0)
        context.faults.attempt(line_of(list), subject, [&] { wall.wall = mean_wall(parts, area); });
}

}  // namespace

NamedWall read_wall(TableReader& table, const std::string& key, std::optional<double> area,
                    const ReadContext& context) {
    NamedWall wall{key, {}, ""};
    const toml::node* node = table.require(key, "\"brick, plastered\"");
    if (!node) return wall;
    const int line = line_of(*node);
    const std::string subject = table.title() + ' ' + key;
    if (const auto name = node->value_exact<std::string>()) {
        read_construction(*name, line, subject, wall, context);
    } else if (node->is_table()) {
        TableReader surface(node->as_table(), subject, line, context.faults);
        read_surface(surface, wall, context);
    } else if (const toml::array* list = node->as_array(); !list || list->empty()) {
        context.faults.add(line,
                           subject + " must say what the wall is made of, but is " +
                               (list ? "an empty list" : as_written(*node)),
                           ways);
    } else if (!has_parts(*list)) {
        read_branches(*list, subject, wall, context);
    } else if (area) {
        read_parts(*list, subject, *area, wall, context);
    } else {
        context.faults.add(line, subject + " cannot have parts: it is no single wall",
                           "write the parts at a wall of their own, or one surface here");
    }
    return wall;
}

}  // namespace boxroom
