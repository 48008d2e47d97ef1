#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/frequency_grid.hpp"
#include "results/seat.hpp"
#include "results/sets.hpp"
#include "solvers/room.hpp"
#include "solvers/room_solver.hpp"
#include "woofer/build_rules.hpp"
#include "woofer/closed_box.hpp"
#include "woofer/crossover.hpp"
#include "woofer/drive.hpp"
#include "woofer/enclosure.hpp"

namespace boxroom {

struct SpotRules {
    double step = 0.10;            ///< [m]
    double gap = 0.05;             ///< box to wall [m]
    double seat_clearance = 0.50;  ///< box to the point under a seat [m]
    double tallest = 1e9;          ///< box height limit [m]
    double way = 0;                ///< kept free from each door (an opening) to each seat [m]
};

/// A point of the wanted curve.
struct TargetPoint {
    double frequency = 0;  ///< [Hz]
    double level_db = 0;
};

/// What is asked of the response.
struct Target {
    Band band{20, 120};
    double slope = 0;           ///< dB per octave
    double indifference = 0.5;  ///< dB of balance that nobody hears and the model cannot promise
    std::optional<double> level = {};    ///< wanted loudest level [dB SPL], equalised to the target
    std::optional<double> down_to = {};  ///< ... down to here [Hz]; the band's low end if not given
    /// Instead of the slope, by rising frequency; level beyond its ends.
    std::vector<TargetPoint> curve = {};
};

/// score = spread w1 + unevenness w2 + balance w3 - level w4 + ringing w5 (level: dB under the
/// loudest spot; ringing in s, so w5 in dB/s;
/// sets of several subs are searched without it).
struct ScoreWeights {
    double spread = 1.0, unevenness = 0.5, balance = 0.5, level = 0.1, ringing = 0.5;
};

struct QtcSweep {
    double low = 0.5, high = 1.2;
    int steps = 29;
};

/// The steps and range of what can be set at a sub's amplifier.
struct SettingSteps {
    double gain = 0.5;             ///< [dB]
    double delay = 1e-4;           ///< [s]
    double lowest_gain = -12;      ///< [dB]; the highest is 0
    double longest_delay = 20e-3;  ///< [s]
};

/// A main loudspeaker as a further source; `at` is the middle of its bass cone.
struct MainSpeaker {
    std::string name;
    Point at;
    Dial dial = {};
    std::optional<double> sensitivity =
        {};                              ///< at 1 m, 2.83 V, free field [dB]; as a sub if unknown
    std::optional<double> low_end = {};  ///< its own -3 dB frequency [Hz]; none: flat
    int low_end_order = 2;               ///< 2 closed, 4 vented
    bool high_pass = true;               ///< through the crossover's high-pass
};

/// How wrong the inputs may be: bounds of the draws of tuning/robustness.
struct Uncertainty {
    int draws = 500;
    std::uint64_t seed = 1;
    double seat = 0.10;  ///< [m]
    double sub = 0.05;   ///< [m]
    double room = 0.02;  ///< [m]
    /// Factor either way on the damping of what is known by name alone, walls and contents: as far
    /// as tables lie apart. Walls given in numbers take it up to 1.5.
    double wall = 2;
    double driver = 0.10;  ///< share of fs; the driver's parts: tuning/draws.hpp
};

/// What is solved: the room and its air, at these frequencies, by this solver.
struct Acoustics {
    Air air;
    Room room;
    std::vector<double> frequency;  ///< analysis grid [Hz]
    /// The file names no frequencies: more of them stand round the modes (placement/analysis_grid).
    bool resolved = false;
    SolverSettings solver;
};

/// One of the drivers that a file lets choose from.
struct DriverChoice {
    std::string name;
    DriverSheet sheet;
    std::optional<double> price = {};  ///< in whatever money
};

/// What is built: the driver, what drives it, and the boxes that may be chosen.
struct Design {
    std::string name;  ///< of the driver, where the file gives one
    DriverSheet driver;
    std::vector<DriverChoice> drivers;  ///< [[driver]]s to choose from; empty: the one above
    Amplifier amplifier;
    std::optional<double> box_volume;  ///< for listen, map, rank [m3]
    double filling = 1.0;
    std::optional<QtcSweep> sweep;                    ///< default: just above Qts .. 1.2
    std::optional<std::vector<double>> volume_sweep;  ///< or these net volumes [m3]
    std::optional<double> largest;                    ///< [box] largest, net [m3]
    std::optional<double> heaviest;                   ///< [box] heaviest, finished [kg]
    std::optional<bool> equaliser_available;  ///< [equaliser] available; empty: the file is silent
    EnclosureRules enclosure;
    BuildRules build;
};

/// How the file places a sub: by its box, or by the middle of its cone (PlacedSub::at).
struct BoxPlace {
    std::optional<Point> footprint = {};  ///< [[sub]] box_at: centre of the box on the floor
    std::optional<Facing> facing = {};    ///< [[sub]] facing
};

/// What stands in the room already.
struct Placed {
    std::vector<PlacedSub> subs;
    std::vector<BoxPlace> places;  ///< of the subs, one each; empty where none was read
    std::vector<MainSpeaker> mains;
    std::optional<Crossover> crossover;  ///< for the sum of subs and mains; nothing else hears it
    std::vector<EqFilter> filters;       ///< [equaliser] filters, one for all subs
    bool cone_load = false;              ///< [analysis]: count the room's pressure on placed cones
};

/// What is looked for: where boxes may stand, how many, of which sizes, and what can be dialled in.
struct Wanted {
    SpotRules spots;
    std::vector<KeepOut> keep_outs;
    std::vector<Point> doors;     ///< where ways begin: middles of doors, open or shut, on the floor
    std::vector<int> sub_counts;  ///< [search] subs; empty: one, without settings
    /// [search] volumes: sets of several subs mix boxes of these net volumes [m3]; empty: all
    /// alike.
    std::vector<double> set_volumes;
    SettingSteps steps;
    double map_frequency = 40;  ///< [map] frequency
};

/// How what is found is judged, and how wrong the file may be.
struct Judgement {
    Target target;
    ScoreWeights weights;
    Uncertainty uncertainty;
};

/// Everything a room file says, in SI, checked.
struct Scenario {
    std::string title;
    Acoustics acoustics;
    std::vector<Seat> seats;
    Design design;
    Placed placed;
    Wanted wanted;
    Judgement judgement;
    std::string source_text;  ///< the file, for the results
    /// What the file calls the six walls: a floor plan that is a rectangle has edge_1 ...
    std::array<std::string, 6> wall_keys{"left", "right", "front", "back", "floor", "ceiling"};
    std::vector<std::string> warnings;
};

}  // namespace boxroom
