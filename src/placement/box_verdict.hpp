#pragma once
#include "placement/criteria.hpp"
#include "placement/decision.hpp"
#include "results/plan.hpp"

namespace boxroom {

// What each box of a plan is worth at one place (or several that stand together), and which of them
// to build. `power` (F,S): squared pressure at the seats per squared volume velocity, settings
// included, the loudest at 0 dB [(Pa s/m3)^2].

/// How loud each box plays there, and the smallest that plays target.level.
void find_loudest(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
                  Plan& plan);

/// What each amplifier must give for the level asked, else for the level of the box to build:
/// P = V^2/R with the voltage that lifts the equalised curve at 2.83 V to it, R the amplifier's
/// load or Re.
void find_watts(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
                Plan& plan);

/// Balance there of one box of the plan.
double balance_there(const Scenario& scenario, const Driver& driver,
                     const ByFrequency<double>& power, const BoxOption& box);
/// Balance of each box there, and on the endless floor.
void find_balances(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
                   Plan& plan);

/// Fills the plan's choices from its boxes: best and by one rule, on the endless floor and in the
/// room; textbook; the box to build. Throws Error where no box is allowed.
void choose_boxes(const Scenario& scenario, Plan& plan);

/// The same rule on the file's band and on bands from 20, 30 and 40 Hz, and which of room, band,
/// rule and driver decides.
void find_by_band(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
                  Plan& plan);

}  // namespace boxroom
