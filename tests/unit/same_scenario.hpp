// What differs between two scenarios, member by member. Every structure is taken apart by a
// structured binding of all its members, so a member that is added and not named here does not
// compile.
#pragma once
#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <tuple>
#include <type_traits>
#include <vector>

#include "placement/scenario.hpp"

namespace boxroom::same {

#define BOXROOM_MEMBERS(Type, ...)                                               \
    inline auto members(const Type& all) {                                       \
        const auto& [__VA_ARGS__] = all;                                         \
        return std::make_pair(std::string(#__VA_ARGS__), std::tie(__VA_ARGS__)); \
    }
BOXROOM_MEMBERS(Point, x, y, z)
BOXROOM_MEMBERS(Band, low, high)
BOXROOM_MEMBERS(Air, speed_of_sound, density)
BOXROOM_MEMBERS(Branch, resistance, mass, stiffness)
BOXROOM_MEMBERS(Wall, branches)
BOXROOM_MEMBERS(NamedWall, name, wall, description)
BOXROOM_MEMBERS(Block, name, from, to, surface)
BOXROOM_MEMBERS(Space, name, from, to, walls)
BOXROOM_MEMBERS(Opening, name, from, to, space, either)
BOXROOM_MEMBERS(RoomPlan, outline, edges, blocks, spaces, openings)
BOXROOM_MEMBERS(Contents, area, q, frequency, description)
BOXROOM_MEMBERS(Room, width, length, height, walls, wall_description, plan, contents)
BOXROOM_MEMBERS(Seat, name, at, weight)
BOXROOM_MEMBERS(KeepOut, name, x0, y0, x1, y1)
BOXROOM_MEMBERS(Dial, gain_db, delay, polarity)
BOXROOM_MEMBERS(EqFilter, kind, frequency, gain_db, q)
BOXROOM_MEMBERS(PlacedSub, name, at, dial, volume)
BOXROOM_MEMBERS(BoxPlace, footprint, facing)
BOXROOM_MEMBERS(DriverSheet, fs, qts, vas, qes, qms, re, le, sd, xmax, bl, mms, power)
BOXROOM_MEMBERS(Amplifier, power, load)
BOXROOM_MEMBERS(Crossover, kind, order, frequency)
BOXROOM_MEMBERS(Estimate, value, error, rule)
BOXROOM_MEMBERS(Bodies, driver, amplifier, bracing, braces, cleats)
BOXROOM_MEMBERS(EnclosureRules, thickness, extra_volume, itemised, bodies, proportion_width,
                proportion_height, proportion_depth, tallest, double_front, feet, facing, cut_out,
                driver_depth, amplifier_cut_out)
BOXROOM_MEMBERS(Material, name, density, lightest, heaviest, source)
BOXROOM_MEMBERS(BuildRules, material, mitred, sheet_length, sheet_width, kerf, grain, driver_frame,
                driver_mass, amplifier_mass, filling_density)
BOXROOM_MEMBERS(SpotRules, step, gap, seat_clearance, tallest, way)
BOXROOM_MEMBERS(TargetPoint, frequency, level_db)
BOXROOM_MEMBERS(Target, band, slope, indifference, level, down_to, curve)
BOXROOM_MEMBERS(ScoreWeights, spread, unevenness, balance, level, ringing)
BOXROOM_MEMBERS(QtcSweep, low, high, steps)
BOXROOM_MEMBERS(SettingSteps, gain, delay, lowest_gain, longest_delay)
BOXROOM_MEMBERS(MainSpeaker, name, at, dial, sensitivity, low_end, low_end_order, high_pass)
BOXROOM_MEMBERS(Uncertainty, draws, seed, seat, sub, room, wall, driver)
BOXROOM_MEMBERS(GridOptions, stencil, spacing, left_db, longest, in_double, progress, stop)
BOXROOM_MEMBERS(SolverSettings, solver, grid, solved, on_grid)
BOXROOM_MEMBERS(Acoustics, air, room, frequency, resolved, solver)
BOXROOM_MEMBERS(DriverChoice, name, sheet, price)
BOXROOM_MEMBERS(Design, name, driver, drivers, amplifier, box_volume, filling, sweep, volume_sweep, largest,
                heaviest, equaliser_available, enclosure, build)
BOXROOM_MEMBERS(Placed, subs, places, mains, crossover, filters, cone_load)
BOXROOM_MEMBERS(Wanted, spots, keep_outs, doors, sub_counts, set_volumes, steps, map_frequency)
BOXROOM_MEMBERS(Judgement, target, weights, uncertainty)
BOXROOM_MEMBERS(Scenario, title, acoustics, seats, design, placed, wanted, judgement, source_text,
                wall_keys, warnings)
#undef BOXROOM_MEMBERS

using Differences = std::vector<std::string>;

template <typename T>
void compare(const T& a, const T& b, const std::string& path, Differences& out);
template <typename T>
void compare(const std::vector<T>& a, const std::vector<T>& b, const std::string& path,
             Differences& out);
template <typename T, std::size_t N>
void compare(const std::array<T, N>& a, const std::array<T, N>& b, const std::string& path,
             Differences& out);

template <typename T>
void compare(const std::optional<T>& a, const std::optional<T>& b, const std::string& path,
             Differences& out) {
    if (a.has_value() != b.has_value())
        out.push_back(path);
    else if (a)
        compare(*a, *b, path, out);
}

template <typename List>
void compare_lists(const List& a, const List& b, const std::string& path, Differences& out) {
    if (a.size() != b.size()) {
        out.push_back(path);
        return;
    }
    for (std::size_t i = 0; i < a.size(); ++i)
        compare(a[i], b[i], path + '[' + std::to_string(i) + ']', out);
}

template <typename T>
void compare(const std::vector<T>& a, const std::vector<T>& b, const std::string& path,
             Differences& out) {
    compare_lists(a, b, path, out);
}

template <typename T, std::size_t N>
void compare(const std::array<T, N>& a, const std::array<T, N>& b, const std::string& path,
             Differences& out) {
    compare_lists(a, b, path, out);
}

/// Callbacks are nothing that a file says.
template <typename Signature>
void compare(const std::function<Signature>&, const std::function<Signature>&, const std::string&,
             Differences&) {}
/// Neither is what keeps solved rooms.
template <typename Keeper>
void compare(const std::shared_ptr<Keeper>&, const std::shared_ptr<Keeper>&, const std::string&,
             Differences&) {}

template <typename T>
void compare(const T& a, const T& b, const std::string& path, Differences& out) {
    if constexpr (std::is_arithmetic_v<T> || std::is_enum_v<T> || std::is_same_v<T, std::string>) {
        if (!(a == b)) out.push_back(path);
    } else {
        // No structured binding: clang 14 does not let a lambda have one.
        const auto ours = members(a);
        const auto& names = ours.first;
        const auto& mine = ours.second;
        const auto theirs = members(b).second;
        std::size_t at = 0;
        const auto name = [&] {
            const std::size_t end = std::min(names.find(',', at), names.size());
            const std::string word = names.substr(at, end - at);
            at = std::min(end + 2, names.size());
            return path.empty() ? word : path + '.' + word;
        };
        [&]<std::size_t... I>(std::index_sequence<I...>) {
            (compare(std::get<I>(mine), std::get<I>(theirs), name(), out), ...);
        }
        (std::make_index_sequence<std::tuple_size_v<decltype(theirs)>>{});
    }
}

/// The members in which two scenarios differ, by path: "seats[0].at.x".
inline Differences differences(const Scenario& a, const Scenario& b) {
    Differences out;
    compare(a, b, "", out);
    return out;
}

}  // namespace boxroom::same
