#include "room_file/wall_reader.hpp"

#include <sstream>

#include "solvers/constructions.hpp"

namespace boxroom {
namespace {

const char* const ways =
    "write a named construction such as \"brick, plastered\", { absorption = 0.05 }, or "
    "{ resistance = 2200, mass = 11, stiffness = 1.8e6 }";

/// One branch R + j w M + K/(j w) from its table.
std::optional<Branch> read_branch(TableReader& table) {
    const Checked resistance =
        table.required("resistance", Quantity::specific_resistance, {1e-3, 1e12, "above 0 Pa s/m"});
    const Checked mass = table.number("mass", Quantity::surface_mass, {0, 1e6, "0 kg/m2 or more"});
    const Checked stiffness =
        table.number("stiffness", Quantity::specific_stiffness, {0, 1e15, "0 Pa/m or more"});
    table.close();
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

}  // namespace

bool read_wall(TableReader& walls, const std::string& name, const Air& air, Wall& wall,
               std::string& words, FaultList& faults) {
    const toml::node* node = walls.require(name, "\"brick, plastered\"");
    if (!node) return false;
    const int line = line_of(*node);
    const std::string subject = walls.title() + ' ' + name;
    if (const auto text = node->value_exact<std::string>())
        return faults.attempt(line, subject, [&] {
            const Construction& construction = find_construction(*text);
            wall = wall_from_construction(construction, air);
            words = construction.name;
        });
    if (node->is_table()) {
        TableReader table(node->as_table(), subject, line, faults);
        if (table.has("absorption")) {
            const auto alpha = table.optional("absorption", Quantity::plain,
                                              {1e-6, 0.95, "above 0 and at most 0.95"});
            for (const char* other : {"resistance", "mass", "stiffness"})
                if (table.has(other))
                    table.fault(other, subject + " has an absorption and a " + other + " too",
                                "keep one of the two ways to describe a wall");
            table.close();
            if (!alpha) return false;
            std::ostringstream out;
            out << "absorption " << *alpha;
            words = out.str();
            return faults.attempt(line, subject, [&] { wall = wall_from_absorption(*alpha, air); });
        }
        const auto branch = read_branch(table);
        if (!branch) return false;
        wall.branches = {*branch};
        words = in_words(*branch);
        return true;
    }
    const toml::array* list = node->as_array();
    if (!list || list->empty()) {
        faults.add(line,
                   subject + " must say what the wall is made of, but is " +
                       (list ? "an empty list" : as_written(*node)),
                   ways);
        return false;
    }
    bool good = true;
    for (const toml::node& element : *list) {
        if (!element.is_table()) {
            faults.add(line_of(element),
                       subject + " lists " + as_written(element) + " where a branch is wanted",
                       "write { resistance = 2200, mass = 11, stiffness = 1.8e6 }");
            good = false;
            continue;
        }
        TableReader table(element.as_table(), subject, line_of(element), faults);
        const auto branch = read_branch(table);
        good = good && branch;
        if (!branch) continue;
        wall.branches.push_back(*branch);
        words += (words.empty() ? "" : " beside ") + in_words(*branch);
    }
    return good;
}

bool read_walls(TableReader& walls, const Air& air, Room& room, FaultList& faults) {
    bool good = walls.present();
    for (int index = left_wall; index <= ceiling_wall; ++index)
        good = read_wall(walls, wall_names[index], air, room.walls[index],
                         room.wall_description[index], faults) &&
               good;
    walls.close();
    return good;
}

}  // namespace boxroom
