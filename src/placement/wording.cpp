#include "placement/wording.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "base/number.hpp"
#include "placement/room_states.hpp"
#include "placement/solver_agreement.hpp"

namespace boxroom {
namespace {

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

std::string limit_words(const std::string& limit) {
    return limit == "excursion" ? "cone's travel"
           : limit == "power"   ? "driver's power"
           : limit == "voltage" ? "amplifier's voltage"
                                : "amplifier's current";
}

std::string counted(std::size_t count) {
    static const char* const words[] = {"no box", "one box", "two boxes", "three boxes",
                                        "four boxes"};
    return count < 5 ? words[count] : std::to_string(count) + " boxes";
}

std::string hertz(double f) {
    return number(f, 0) + " Hz";
}

std::string from_walls(const Point& p, Units units) {
    return format_length(p.x, units) + " from the left and " + format_length(p.y, units) +
           " from the front wall";
}

bool alike(const Decision& decision) {
    return std::ranges::all_of(decision.subs, [&](const DecidedSub& sub) {
        return sub.volume == decision.first().volume;
    });
}

std::string recommended(const Decision& decision, Units units) {
    const DecidedSub& first = decision.first();
    const std::string box = format_volume(first.volume, units);
    if (decision.subs.size() == 1)
        return "Build one box of " + box + ", centre " + from_walls(first.footprint, units) +
               ", facing " + facing_name(first.facing) + ".";
    return "Build " + counted(decision.subs.size()) +
           (alike(decision) ? " of " + box + " each, Qtc " + number(first.qtc, 2)
                            : " of different sizes") +
           "; each has its place and its settings.";
}

std::string dial_words(const Dial& dial) {
    return "gain " + number(dial.gain_db, 1) + " dB, delay " + number(dial.delay * 1e3, 1) +
           " ms, polarity " + (dial.polarity > 0 ? "normal" : "reversed");
}

/// Where each box stands, by its centre and by its cone, and what is dialled in: what the
/// recommendation has not said yet.
std::vector<std::string> placed_words(const Decision& decision, Units units) {
    const bool one = decision.subs.size() == 1;
    std::vector<std::string> out;
    for (const DecidedSub& sub : decision.subs) {
        const std::string cone = "iddle of the cone " + from_walls(sub.cone, units) + ", " +
                                 format_length(sub.cone.z, units) + " high";
        if (one) {
            out.push_back("Qtc " + number(sub.qtc, 2) + "; m" + cone +
                          (sub.dial == Dial{} ? "" : "; " + dial_words(sub.dial)) + ".");
            continue;
        }
        out.push_back(sub.name +
                      (alike(decision) ? ""
                                       : ", " + format_volume(sub.volume, units) + ", Qtc " +
                                             number(sub.qtc, 2)) +
                      ": centre of the box " + from_walls(sub.footprint, units) + ", facing " +
                      facing_name(sub.facing) + "; m" + cone + "; " + dial_words(sub.dial) + ".");
    }
    return out;
}

std::string lowest_words(const Target& target) {
    return hertz(target.down_to.value_or(target.band.low));
}

/// How loud it plays, what ends it, and how that meets what is asked.
std::string level_reason(const Plan& plan, const Decision& decision, const Target& target) {
    const Loudest& loudest = decision.loudest;
    if (!loudest.known()) return "";
    std::string text = "Equalised, it plays up to " + number(loudest.level_db, 0) +
                       " dB at the seats, down to " + lowest_words(target) +
                       ". What ends it is the " + limit_words(loudest.limited_by) + ", at " +
                       hertz(loudest.at_hz) + ".";
    if (target.level) {
        const double over = loudest.level_db - *target.level;
        const std::string asked = number(*target.level, 0) + " dB asked";
        text += over >= 0 ? " That is enough for the " + asked + "."
                          : " It misses the " + asked + " by " + number(-over, 0) +
                                " dB: more cones or more travel would help.";
    }
    const BoxOption& flattest = plan.boxes[plan.in_room_best];
    if (decision.watts > 0) {
        text += " That takes about " + number(decision.watts, 0) + " W for each box";
        if (plan.build != plan.in_room_best && flattest.watts > 0)
            text += "; the flattest box would take " + number(flattest.watts, 0) + " W";
        text += ".";
    }
    return text;
}

/// What the draws and such models' doubt say, and what to do about it.
std::string sureness(const Plan& plan, const Decision& decision, bool several_seats) {
    std::string text;
    const Robustness& r = decision.robustness;
    if (r.known && several_seats)
        text = "With inputs as wrong as they may be, the seats differ by " +
               number(r.low.spread_db, 1) + " to " + number(r.high.spread_db, 1) +
               " dB in eight draws of ten. ";
    else if (r.known)
        text = "With inputs as wrong as they may be, the response strays by " +
               number(r.low.unevenness_db, 1) + " to " + number(r.high.unevenness_db, 1) +
               " dB in eight draws of ten. ";
    text +=
        "Such models agree with real rooms within about 5 dB: trust the order of the spots more "
        "than the decibels. ";
    constexpr double alike = 0.5;  // dB, which nobody can hear and no such model can tell
    if (decision.subs.size() == 1 && plan.spots.size() > 1) {
        const auto value = several_seats ? &Criteria::spread_db : &Criteria::unevenness_db;
        const double most = decision.heard.criteria.*value + alike;
        const auto others = std::ranges::count_if(plan.spots, [&](const RankedSpot& spot) {
            return spot.rank != plan.spot.rank && spot.criteria.*value <= most;
        });
        if (others > 0)
            text += "If this spot is in the way, " + std::to_string(others) +
                    (others == 1 ? " other spot does" : " other spots do") +
                    " as well to within 0.5 dB. ";
    }
    return text + "When it stands, measure at the seats.";
}

std::string qtc_and_size(double qtc, double volume, Units units) {
    return "Qtc " + number(qtc, 2) + " (" + format_volume(volume, units) + ")";
}

/// The finding: endless floor and room by one rule, on the file's band and on others.
std::string box_reason(const Plan& plan, const Target& target, Units units) {
    if (plan.by_band.empty()) return "";
    const BandFinding& here = plan.by_band.front();
    std::string text = "Judged from " + number(here.band.low, 0) + " to " + hertz(here.band.high) +
                       ", an endless floor asks for " +
                       qtc_and_size(here.half_space_qtc, here.half_space_volume, units) +
                       ", this room for " +
                       qtc_and_size(here.in_room_qtc, here.in_room_volume, units) + ". ";
    std::string others;
    for (std::size_t n = 1; n < plan.by_band.size(); ++n) {
        const BandFinding& one = plan.by_band[n];
        others += (others.empty() ? "From " : "; from ") + hertz(one.band.low) +
                  " they ask for Qtc " + number(one.half_space_qtc, 2) + " and " +
                  number(one.in_room_qtc, 2);
    }
    if (!others.empty()) text += others + ". ";
    text += "Both follow one rule: the smallest box within " + number(target.indifference, 1) +
            " dB of the flattest. ";
    const std::string& by = plan.decided_by;
    return text + (by == "room"     ? "Here the room decides more than the band."
                   : by == "band"   ? "Here the band decides more than the room."
                   : by == "driver" ? "Here the driver decides: a smaller box would not take it."
                                    : "Here the rule decides: no box above Qtc 1.0.");
}

/// How much size matters, and what the box was chosen by.
std::string how_much_it_matters(const Plan& plan, const Scenario& scenario, Units units) {
    const BoxOption &build = plan.boxes[plan.build], &best = plan.boxes[plan.in_room_best];
    double worst = 0;
    for (const BoxOption& box : plan.boxes) worst = std::max(worst, box.in_room_balance_db);
    const double range = worst - best.in_room_balance_db;
    const Target& target = scenario.judgement.target;
    std::string text;
    if (range <= target.indifference)
        text = "Box size hardly matters here: over the whole sweep the tilt changes by " +
               number(range, 1) + " dB, so take the smaller box.";
    else if (plan.build == plan.in_room_best)
        text = "Box size matters here: the worst box tried would be " + number(range, 1) +
               " dB further off balance.";
    else if (best.volume > build.volume)
        text = "The flattest box would be " + format_volume(best.volume - build.volume, units) +
               " larger and " + number(build.in_room_balance_db - best.in_room_balance_db, 1) +
               " dB flatter; the worst one tried would be " + number(range, 1) + " dB off it.";
    else
        text = "The flattest box would be " + format_volume(build.volume - best.volume, units) +
               " smaller, but does not do what is asked.";
    const auto& available = scenario.design.equaliser_available;
    if (available.value_or(false))
        text += " With the equaliser, size costs level and power, not balance.";
    else if (!available && !target.level)
        text += " The file asks for no level and names no equaliser, so balance chose the box.";
    return text;
}

std::vector<std::string> alternative_words(const Decision& decision, Units units) {
    std::vector<std::string> out;
    for (const Alternative& other : decision.alternatives) {
        std::string places;
        for (const DecidedSub& sub : other.subs)
            places += (places.empty() ? "" : "; ") + format_length(sub.footprint.x, units) + ", " +
                      format_length(sub.footprint.y, units);
        out.push_back(other.what + " of " + format_volume(other.subs.front().volume, units) +
                      ", centres from the left and front walls at " + places + ": " + other.cost +
                      ".");
    }
    return out;
}

}  // namespace

std::string spot_reason(const Criteria& there, const std::vector<RankedSpot>& spots,
                        bool several_seats) {
    // Of this criterion alone: who stands in the middle of the ranking may have any value of it.
    const double Criteria::*what = several_seats ? &Criteria::spread_db : &Criteria::unevenness_db;
    std::vector<double> values;
    for (const RankedSpot& spot : spots) values.push_back(spot.criteria.*what);
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    const std::string reach = " It reaches down to " + hertz(there.reach_hz) + ".";
    if (!several_seats)
        return "There the level strays from the target by " + number(there.unevenness_db, 1) +
               " dB; at a middling spot it strays by " + number(*middle, 1) + " dB." + reach;
    return "There the seats differ by " + number(there.spread_db, 1) +
           " dB on average; at a middling spot they differ by " + number(*middle, 1) +
           " dB. Their average strays from the target by " + number(there.unevenness_db, 1) +
           " dB." + reach;
}

std::string day_words(const DayStates& states, bool several_seats) {
    if (states.criteria.size() < 2) return "";
    std::string names;
    for (const std::string& name : states.openings)
        names += (names.empty() ? "" : ", ") + ('"' + name + '"');
    const auto value = several_seats ? &Criteria::spread_db : &Criteria::unevenness_db;
    const std::size_t worse = states.worse, other = 1 - worse;
    return names + (states.openings.size() > 1 ? " are" : " is") +
           " judged open and shut. The numbers here are those of the worse day, with " +
           (states.openings.size() > 1 ? "them " : "it ") + state_name(worse) + ". " +
           (several_seats ? "Then the seats differ by " : "Then the level strays by ") +
           number(states.criteria[worse].*value, 1) + " dB, with " +
           (states.openings.size() > 1 ? "them " : "it ") + state_name(other) + " by " +
           number(states.criteria[other].*value, 1) + " dB.";
}

PlanWords plan_words(const Plan& plan, const Decision& decision, const Scenario& scenario,
                     Units units) {
    const Target& target = scenario.judgement.target;
    const bool several_seats = scenario.seats.size() > 1;
    PlanWords words;
    words.recommendation = recommended(decision, units);
    words.places = placed_words(decision, units);
    words.reason_spot = spot_reason(decision.heard.criteria, plan.spots, several_seats);
    words.reason_box =
        lift_reason(plan.at_build, target.band,
                    !plan.by_band.empty() && plan.by_band.front().in_room_qtc >
                                                 plan.by_band.front().half_space_qtc + 0.02) +
        box_reason(plan, target, units);
    words.how_much = how_much_it_matters(plan, scenario, units);
    words.days = day_words(decision.states, several_seats);
    words.how_sure = sureness(plan, decision, several_seats);
    words.reason_level = level_reason(plan, decision, target);
    words.alternatives = alternative_words(decision, units);
    words.agreement = agreement_words(plan.agreement);
    const std::string loudness =
        "Level: NIOSH allows 85 dBA for 8 h and half the time for each 3 dB more; ITU-T H.870 "
        "(WHO) 80 dBA for 40 h a week. A-weighting understates bass.";
    words.cautions = {
        "Mains wiring of a plate amplifier is work for a licensed person, by the local code.",
        "Board dust is fine and harmful: extraction, and a respirator when sawing and routing.",
        "A finished box is heavy: lift it with two, and see that it cannot tip on to a child.",
        "Keep exits free, and stand nothing before a heater or over an amplifier's cooling.",
        loudness};
    return words;
}

}  // namespace boxroom
