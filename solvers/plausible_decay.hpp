#pragma once
#include <optional>
#include <vector>

#include "solvers/modal.hpp"

namespace boxroom {

/// What was measured in rooms, against which a model's damping can be held.
namespace measured_rooms {
/// Random-incidence absorption of all surfaces below 100 Hz that heavy rooms behave like, and
/// plastered timber frame (Maluski & Gibbs, Applied Acoustics 65, 2004; a heavy test room likewise:
/// "Sound absorption at low frequencies: modelling a test room", Building Acoustics 13(2), 2006).
inline constexpr double heavy_absorption = 0.02, timber_absorption = 0.15;
inline constexpr double highest_frequency = 100;  ///< up to which these hold [Hz]
/// Decay times at 125 Hz [s]: the shortest of 16 well furnished British living rooms, the mean of
/// 50 (Everest, Master Handbook of Acoustics, ch. 11), and what no furnished room is known to pass.
inline constexpr double shortest_at_125 = 0.35, mean_at_125 = 0.69, longest_at_125 = 1.5;
/// The upper end of the octave round 125 Hz, as far as those tell of single modes [Hz].
inline constexpr double octave_end = 177;
/// How far beyond the measured ones a decay must be to count as unlike them: little in heavy rooms,
/// which agree; a factor of two in light ones, since that is how far the tables for one and the
/// same light wall lie apart (solvers/constructions.cpp).
inline constexpr double margin = 1.1, light_margin = 2;
}  // namespace measured_rooms

/// A mode beside the same mode of an empty shut room of the same size, all walls alike. An axial
/// mode rings longer than Sabine's formula says, so only the same mode compares.
struct ModeDecay {
    Mode mode;
    double heavy = 0;  ///< decay time where every wall absorbs measured_rooms::heavy_absorption [s]
    double timber = 0;  ///< ... timber_absorption [s]
    bool too_live() const { return mode.decay_time > measured_rooms::margin * heavy; }
    bool too_dead() const { return measured_rooms::light_margin * mode.decay_time < timber; }
};

struct PlausibleDecay {
    std::vector<ModeDecay> modes;  ///< below 100 Hz, by frequency; empty where no rectangle
    double at_125 = 0;             ///< decay time at 125 Hz, Sabine's [s]
    bool too_live_at_125() const { return at_125 > measured_rooms::longest_at_125; }
    bool too_dead_at_125() const { return at_125 < measured_rooms::shortest_at_125; }
    /// The one furthest above the heavy room's decay, or below the timber room's; null if none is.
    const ModeDecay* most_live() const;
    const ModeDecay* most_dead() const;
};

/// The decays of a room beside those that were measured in rooms.
PlausibleDecay plausible_decay(const Room& room, const Air& air);

/// Decay time of the mode of this order in the empty shut room of the same size, every wall with
/// this random-incidence absorption [s].
double decay_with_absorption(const Room& room, const Air& air, const std::array<int, 3>& order,
                             double absorption);

struct DecayRange {
    double shortest = 0, longest = 0;  ///< [s]
};
/// Between which decay times a mode was measured in rooms like it: below 100 Hz those of a
/// plastered timber frame and of a heavy room of its size, above it and within the octave round 125
/// Hz those of furnished rooms; none for modes above, next door or of the openings' air.
std::optional<DecayRange> measured_decay(const Room& room, const Air& air, const Mode& mode);

/// Sabine's decay time at one frequency, 24 ln 10 V/(c A) [s], A the walls' random-incidence
/// absorption by area and that of the contents; open openings absorb all that meets them.
double sabine_decay(const Room& room, const Air& air, double frequency);

}  // namespace boxroom
