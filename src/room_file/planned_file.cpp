#include "room_file/planned_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "room_file/room_file_editor.hpp"
#include "room_file/toml_text.hpp"
#include "tuning/biquad.hpp"

namespace boxroom {
namespace {

using Entry = std::pair<std::string, std::string>;  ///< key, TOML

/// A number with its unit, or bare where the file writes bare numbers.
std::string quantity(double value, Quantity kind, const WrittenUnit& unit) {
    const std::string text = format_quantity(value, kind, unit);
    return unit.name.empty() ? text : toml_string(text);
}

std::vector<Entry> entries_of(const DecidedSub& sub, const PlannedUnits& units, bool own_volume) {
    const WrittenUnit decibels{"dB"}, milliseconds{"ms", 1e-3};
    std::vector<Entry> out{
        {"name", toml_string(sub.name)},
        {"box_at",
         fmt::format("[{}, {}]", quantity(sub.footprint.x, Quantity::length, units.length),
                     quantity(sub.footprint.y, Quantity::length, units.length))},
        {"facing", toml_string(facing_name(sub.facing))},
        {"gain", quantity(sub.dial.gain_db, Quantity::level, decibels)},
        {"delay", quantity(sub.dial.delay, Quantity::time, milliseconds)},
        {"polarity", sub.dial.polarity > 0 ? "\"+\"" : "\"-\""}};
    if (own_volume)
        out.emplace_back("volume", quantity(sub.volume, Quantity::volume, units.volume));
    return out;
}

std::string filters_toml(const std::vector<EqFilter>& filters) {
    std::string out;
    for (const EqFilter& f : filters)
        out += fmt::format("{}{{ type = {}, frequency = {}, gain = {}, q = {} }}",
                           out.empty() ? "" : ", ", toml_string(filter_name(f.kind)),
                           quantity(f.frequency, Quantity::frequency, {"Hz"}),
                           quantity(f.gain_db, Quantity::level, {"dB"}),
                           format_quantity(f.q, Quantity::plain, {}));
    return '[' + out + ']';
}

/// Fills one of the file's own [[sub]]s.
void fill(RoomFileEditor& file, std::size_t index, const std::vector<Entry>& entries) {
    const std::string table = fmt::format("sub[{}].", index);
    for (const auto& [key, toml] : entries) {
        if (key == "box_at" && file.has(table + "at"))
            file.replace_entry(table + "at", key, toml);
        else
            file.set_toml(table + key, toml);
    }
}

}  // namespace

PlannedUnits planned_units(const std::string& source_text) {
    const RoomFileEditor file(source_text);
    return {file.unit_at("nothing", Quantity::length),
            file.unit_at("box.volume", Quantity::volume)};
}

std::string planned_room_file(const Scenario& scenario, const Decision& decision) {
    RoomFileEditor file(scenario.source_text);
    const PlannedUnits units = planned_units(scenario.source_text);
    const double volume = decision.first().volume;
    const bool alike = std::ranges::all_of(
        decision.subs, [&](const DecidedSub& sub) { return sub.volume == volume; });
    file.set_toml("box.volume", quantity(volume, Quantity::volume, units.volume));
    if (scenario.design.drivers.size() > 1) file.set_word("box.driver", scenario.design.name);
    const std::size_t known = file.count("sub");
    for (std::size_t n = 0; n < decision.subs.size(); ++n) {
        const bool own = !alike || file.has(fmt::format("sub[{}].volume", n));
        const auto entries = entries_of(decision.subs[n], units, own);
        if (n < known) {
            fill(file, n, entries);
            continue;
        }
        std::vector<std::string> lines;
        for (const auto& [key, toml] : entries) lines.push_back(key + " = " + toml);
        file.add_table("sub", lines);
    }
    for (std::size_t n = known; n-- > decision.subs.size();) file.comment_out("sub", n);
    // They were made with the boxes where they stood, and their files lie beside the other text.
    file.comment_out_all("recording");
    if (!decision.equaliser.empty() || file.has("equaliser.filters"))
        file.set_toml("equaliser.filters", filters_toml(decision.equaliser));
    return file.text();
}

}  // namespace boxroom
