#pragma once
#include <span>
#include <vector>

#include "placement/scenario.hpp"

namespace boxroom {

/// What decides between boxes, one of the sweep.
struct BoxChance {
    double volume = 0;  ///< net [m3]
    double qtc = 0;
    double balance_db = 0;
    double loudest_db = 0;  ///< equalised; 0 where the limits are unknown
    bool allowed = true;    ///< it fits, takes the driver, and is neither too large nor too heavy
};

/// What the builder wants of the box.
struct BoxNeed {
    double indifference = 0.5;         ///< [dB] of balance, of level where none is asked
    std::optional<double> level = {};  ///< [dB SPL], equalised
    bool equaliser = false;            ///< there is one: the tilt is its business
    bool levels_known = false;
};

inline constexpr double bearable_qtc = 1.0;  ///< above it is poor (common practice)

/// Index of the allowed box of the best balance; -1 where none is allowed.
int flattest_box(std::span<const BoxChance> boxes);

/// The smallest allowed box whose balance is within `indifference` of the best allowed one and
/// whose Qtc is at most bearable_qtc (or the flattest one's, where that is higher): the rule for
/// the endless floor as for the room. -1 where none is allowed.
int box_by_balance(std::span<const BoxChance> boxes, double indifference);

/// The box to build. Without an equaliser the one by balance; of the boxes that serve as well, and
/// then of all, one that plays the level asked, if any does. With one, size costs level and power,
/// not balance: the smallest box of a bearable Qtc that plays the level asked, or, where none is
/// asked, within `indifference` of the loudest. Where no box plays the level asked the loudest
/// counts. -1 where none is allowed.
int box_to_build(std::span<const BoxChance> boxes, const BoxNeed& need);

/// Whether the rule finds `a` worse than `b`: what counts (the level missed, the tilt or, with an
/// equaliser, the level) is worse by more than `indifference`, or no better and the box is larger.
/// Of two pools of which one holds the other, the larger one's choice is never worse.
bool worse(const BoxChance& a, const BoxChance& b, const BoxNeed& need);

/// Which of several numbers of boxes (rising) is worth it: a further box where it lowers the spread
/// by `indifference` or more, and in at least nine draws of ten, if they were drawn. `better[n]` is
/// the share of draws in which n has less spread than the one kept so far; -1: not drawn.
bool further_box_is_worth_it(double spread_gain_db, double share_of_draws, double indifference);

}  // namespace boxroom
