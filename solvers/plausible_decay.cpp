#include "solvers/plausible_decay.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/parallel.hpp"
#include "solvers/surface_areas.hpp"

namespace boxroom {
namespace {

constexpr double table_frequency = 125;  // of the measured rooms [Hz]

}  // namespace

const ModeDecay* PlausibleDecay::most_live() const {
    const auto less = [](const ModeDecay& a, const ModeDecay& b) {
        return a.mode.decay_time / a.heavy < b.mode.decay_time / b.heavy;
    };
    const auto found = std::max_element(modes.begin(), modes.end(), less);
    return found != modes.end() && found->too_live() ? &*found : nullptr;
}

const ModeDecay* PlausibleDecay::most_dead() const {
    const auto less = [](const ModeDecay& a, const ModeDecay& b) {
        return a.mode.decay_time / a.timber < b.mode.decay_time / b.timber;
    };
    const auto found = std::min_element(modes.begin(), modes.end(), less);
    return found != modes.end() && found->too_dead() ? &*found : nullptr;
}

double decay_with_absorption(const Room& room, const Air& air, const std::array<int, 3>& order,
                             double absorption) {
    Room alike{room.width, room.length, room.height, {}, {}};
    alike.walls.fill(wall_from_absorption(absorption, air));
    return room_mode(alike, air, order).decay_time;
}

std::optional<DecayRange> measured_decay(const Room& room, const Air& air, const Mode& mode) {
    namespace rooms = measured_rooms;
    if (mode.next_door || mode.order == std::array{0, 0, 0} || mode.frequency > rooms::octave_end)
        return std::nullopt;
    if (mode.frequency > rooms::highest_frequency)
        return DecayRange{rooms::shortest_at_125, rooms::longest_at_125};
    return DecayRange{decay_with_absorption(room, air, mode.order, rooms::timber_absorption),
                      decay_with_absorption(room, air, mode.order, rooms::heavy_absorption)};
}

double sabine_decay(const Room& room, const Air& air, double frequency) {
    const double omega = 2 * std::numbers::pi * frequency;
    double absorbing = room.contents.area > 0
                           ? 8 * room.volume() / air.speed_of_sound *
                                 room.contents.decay_rate(omega, air, room.volume()).real()
                           : 0;
    for (const WallPart& part : surfaces_by_area(room))
        absorbing += part.area * random_incidence_absorption(part.wall.admittance(omega, air));
    for (const Opening& opening : room.plan.openings) absorbing += opening.area();
    return 24 * std::log(10.0) * room.volume() / (air.speed_of_sound * absorbing);
}

PlausibleDecay plausible_decay(const Room& room, const Air& air) {
    PlausibleDecay result;
    result.at_125 = sabine_decay(room, air, table_frequency);
    if (!room.has_rectangle_floor()) return result;
    for (const Mode& mode : room_modes(room, air, measured_rooms::highest_frequency))
        result.modes.push_back({mode, 0, 0});
    for_each_in_parallel(result.modes.size(), 1, [&](std::size_t n) {
        ModeDecay& m = result.modes[n];
        m.heavy = decay_with_absorption(room, air, m.mode.order, measured_rooms::heavy_absorption);
        m.timber =
            decay_with_absorption(room, air, m.mode.order, measured_rooms::timber_absorption);
    });
    return result;
}

}  // namespace boxroom
