#include "placement/wording.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "base/number.hpp"
#include "placement/solver_agreement.hpp"

namespace boxroom {
namespace {

std::string place(const RankedSpot& spot, Units units) {
    return format_length(spot.footprint.x, units) + " from the left wall and " +
           format_length(spot.footprint.y, units) +
           " from the front wall (centre of the box), driver facing " + facing_words(spot.facing);
}

/// How much more the room lifts the lowest half octave of the band than the band as a whole.
std::string lift_reason(const Listening& at, const Band& band, bool smaller_than_open) {
    const Band bottom{band.low, band.low * std::numbers::sqrt2};
    if (std::ranges::none_of(at.frequency, [&](double f) { return bottom.contains(f); })) return "";
    const auto mean_lift = [&](const Band& part) {
        const auto weight = log_mean_weights(at.frequency, part);
        return std::inner_product(weight.begin(), weight.end(), at.lift_db.begin(), 0.0);
    };
    const double extra = mean_lift(bottom) - mean_lift(band);
    const std::string range =
        number(band.low, 0) + " to " + number(band.low * std::numbers::sqrt2, 0) + " Hz";
    if (std::abs(extra) > 1)
        return "The room lifts " + range + " by " + number(std::abs(extra), 0) + " dB " +
               (extra > 0 ? "more" : "less") + " than the rest" +
               (extra > 0 && smaller_than_open ? ", so a box that falls off earlier fits. " : ". ");
    return "The room treats the bottom of the band like the rest. ";
}

/// "104 dB down to 30 Hz (excursion ends it at 33 Hz)".
std::string loudest_words(const BoxOption& box, double from) {
    return number(box.loudest_db, 0) + " dB down to " + number(from, 0) + " Hz (" + box.limited_by +
           " ends it at " + number(box.limited_at_hz, 0) + " Hz)";
}

/// How loud the box to build plays, and which box a wanted level would take.
std::string level_reason(const Plan& plan, const Target& target, Units units) {
    const BoxOption& build = plan.boxes[plan.build];
    if (build.limited_by.empty()) return "";
    const double from = target.down_to.value_or(target.band.low);
    std::string text = "Equalised to the target the box to build plays " +
                       loudest_words(build, from) + " at the seats.";
    if (!target.level) return text;
    const std::string wanted = number(*target.level, 0) + " dB";
    if (plan.smallest_for_level < 0) {
        const auto loudest = std::max_element(
            plan.boxes.begin(), plan.boxes.end(), [](const BoxOption& a, const BoxOption& b) {
                return (a.fits ? a.loudest_db : -1e9) < (b.fits ? b.loudest_db : -1e9);
            });
        return text + " No box of the sweep reaches the wanted " + wanted + " here; the loudest, " +
               format_volume(loudest->volume, units) + ", gives " + loudest_words(*loudest, from) +
               ". More cones or more travel would.";
    }
    const BoxOption& small = plan.boxes[plan.smallest_for_level];
    return text + " The smallest box of the sweep that reaches the wanted " + wanted +
           " here is the one of " + format_volume(small.volume, units) + ", Qtc " +
           number(small.qtc, 2) + ": " + loudest_words(small, from) + ".";
}

/// How many spots are about as good: if one is in the way, another will do.
std::string sureness(const Plan& plan) {
    constexpr double alike = 0.5;  // dB of spread, which nobody can hear and no such model can tell
    const double most = plan.at_build.criteria.spread_db + alike;
    const auto others = std::ranges::count_if(
        plan.spots, [&](const RankedSpot& spot) { return spot.criteria.spread_db <= most; });
    const std::size_t all = plan.spots.size();
    return "Such models agree with real rooms within about 5 dB, so the order of the spots counts "
           "for more than the decibels. " +
           (all > 1
                ? std::to_string(others) + " of " + std::to_string(all) +
                      " spots serve the seats as alike as this one, within " + number(alike, 1) +
                      " dB or better: if something is in the way, take the nearest of those. "
                : std::string()) +
           "When it stands, measure at the seats.";
}

}  // namespace

std::string spot_reason(const Criteria& there, const std::vector<RankedSpot>& spots) {
    const RankedSpot& middle = spots[spots.size() / 2];
    return "There the seats differ by " + number(there.spread_db, 1) + " dB on average (" +
           number(middle.criteria.spread_db, 1) +
           " dB at a middling spot), the seat average is uneven by " +
           number(there.unevenness_db, 1) + " dB (" + number(middle.criteria.unevenness_db, 1) +
           " dB), and it reaches down to " + number(there.reach_hz, 0) + " Hz.";
}

namespace {

/// What the choice of a box comes to at the chosen spot.
struct BoxesThere {
    const BoxOption &build, &best, &open, &book;
    double range = 0;     ///< of balance over the sweep [dB]
    bool hardly = false;  ///< ... less than one can hear
    std::string best_edge, open_edge;

    BoxesThere(const Plan& plan, double indifference)
        : build(plan.boxes[plan.build]),
          best(plan.boxes[plan.in_room_best]),
          open(plan.boxes[plan.half_space_best]),
          book(plan.boxes[plan.textbook]) {
        double worst = 0;
        for (const BoxOption& box : plan.boxes) worst = std::max(worst, box.in_room_balance_db);
        range = worst - best.in_room_balance_db;
        hardly = range <= indifference;
        // A best box at the end of the sweep is only the best of those tried: say so.
        const auto edge = [&](int index) {
            return index == 0                                         ? ", the lowest tried"
                   : index == static_cast<int>(plan.boxes.size()) - 1 ? ", the highest tried"
                                                                      : "";
        };
        best_edge = edge(plan.in_room_best), open_edge = edge(plan.half_space_best);
    }
};

std::string box_reason(const Plan& plan, const BoxesThere& there, const Band& band, Units units) {
    const BoxOption &best = there.best, &open = there.open, &book = there.book;
    return lift_reason(plan.at_build, band, best.qtc > open.qtc + 0.02) +
           "Here the flattest tilt comes from Qtc " + number(best.qtc, 2) + there.best_edge + " (" +
           format_volume(best.volume, units) + ", " + number(best.in_room_balance_db, 1) +
           " dB off balance); by the same measure the endless floor would ask for Qtc " +
           number(open.qtc, 2) + there.open_edge + " (" + format_volume(open.volume, units) +
           "). The textbook box, Qtc " + number(book.qtc, 2) + ", " +
           format_volume(book.volume, units) + ", would be " + number(book.in_room_balance_db, 1) +
           " dB off balance here.";
}

std::string how_much_it_matters(const BoxesThere& there, Units units) {
    if (there.hardly)
        return "Box size hardly matters at this spot: over the whole sweep the balance changes "
               "by " +
               number(there.range, 1) + " dB, less than one can hear, so take the smaller box.";
    if (&there.build == &there.best)
        return "Box size matters here: the worst box of the sweep would cost " +
               number(there.range, 1) + " dB of balance.";
    return "The box to build is smaller than the best on paper by " +
           format_volume(there.best.volume - there.build.volume, units) + " and only " +
           number(there.build.in_room_balance_db - there.best.in_room_balance_db, 1) +
           " dB worse in balance, which neither a listener nor this model can tell; the worst box "
           "of the sweep would cost " +
           number(there.range, 1) + " dB. A smaller box wants more amplifier power at the bottom.";
}

std::string recommended(const Plan& plan, const BoxesThere& there, Units units) {
    return "Build the " + format_volume(there.build.volume, units) + " box (Qtc " +
           number(there.build.qtc, 2) + ") and stand it " + place(plan.spot, units) +
           ": the seats then differ by about " + number(plan.spot.criteria.spread_db, 1) +
           " dB and " +
           (there.hardly ? "box size hardly matters there, so the smaller box is the better one."
                         : "the broad tilt is within " + number(there.build.in_room_balance_db, 1) +
                               " dB of what you asked for.");
}

}  // namespace

PlanWords plan_words(const Plan& plan, const Scenario& scenario, Units units) {
    const Target& target = scenario.judgement.target;
    const BoxesThere there(plan, target.indifference);
    PlanWords words;
    words.reason_spot = spot_reason(plan.at_build.criteria, plan.spots);
    words.reason_box = box_reason(plan, there, target.band, units);
    words.how_much = how_much_it_matters(there, units);
    words.how_sure = sureness(plan);
    words.reason_level = level_reason(plan, target, units);
    words.recommendation = recommended(plan, there, units);
    words.agreement = agreement_words(plan.agreement);
    words.cautions = {
        "Mains wiring of a plate amplifier is work for a licensed person, by the local code.",
        "Board dust is fine and harmful: extraction, and a respirator when sawing and routing.",
        "A finished box is heavy: lift it with two, and see that it cannot tip on to a child.",
        "Keep exits free, and stand nothing before a heater or over an amplifier's cooling.",
        "Level: NIOSH allows 85 dBA for 8 h and half the time for each 3 dB more; ITU-T H.870 "
        "(WHO) 80 dBA for 40 h a week. A-weighting understates bass."};
    return words;
}

}  // namespace boxroom
