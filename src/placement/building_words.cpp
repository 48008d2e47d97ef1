#include "placement/building_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.hpp"
#include "base/workshop_units.hpp"

namespace boxroom {
namespace {

/// "stays 0.73", or "lies between 0.71 and 0.75", as far as two digits show it.
std::string qtc_range_words(const BoxBuild& b) {
    const std::string low = number(b.qtc_low, 2), high = number(b.qtc_high, 2);
    return low == high ? "stays " + low : "lies between " + low + " and " + high;
}

void remark_on_estimates(BoxBuild& b, Units units) {
    double error = 0;
    for (const VolumeItem& item : b.volumes) error += item.error;
    if (error > 0)
        b.remarks.push_back("If every estimate is off by its limit, " +
                            (error < 0.1e-3 ? "under " + format_litres(0.1e-3, units)
                                            : format_litres(error, units)) +
                            " together, Qtc " + qtc_range_words(b) +
                            ": fill a bag with the driver's own volume, or measure it in water, "
                            "where that matters.");
    if (b.cut_out && !b.cut_out_given)
        b.remarks.push_back("The driver's hole of " + format_both(*b.cut_out, units) +
                            " is an estimate from sd (1.15 times the cone's diameter): measure "
                            "your driver before you cut, and give [build] driver_cut_out.");
    if (!b.cut_out)
        b.remarks.push_back("The driver's hole is not known: give [build] driver_cut_out.");
}

/// Where the file says what bracing takes, the wood of the cut list may disagree.
void remark_on_bracing(BoxBuild& b, Units units) {
    double wood = 0;
    for (const Panel& p : b.panels)
        if (p.inside) wood += p.count * p.volume;
    if (std::abs(wood - b.bracing) > 0.2e-3)
        b.remarks.push_back("Brace and cleats of the cut list take " + format_litres(wood, units) +
                            ", the file reckons with " + format_litres(b.bracing, units) +
                            ": leave the file's number out, or braces and cleats.");
    const double across = b.inner.width, along = lies(b.facing) ? b.inner.depth : b.inner.height;
    if (b.cleats && b.cut_out &&
        std::hypot(across / 2 - b.thickness, along / 2 - b.thickness) < *b.cut_out / 2)
        b.remarks.push_back("The corner cleats reach into the driver's hole: leave them out.");
}

void remark_on_shape(BoxBuild& b, const Scenario& s, Units units) {
    const std::string first = number(b.first_internal_mode, 0) + " Hz";
    const std::string top = number(b.crossover, 0) + " Hz";
    if (b.first_internal_mode >= 2 * b.crossover)
        b.remarks.push_back("The air inside first resonates at " + first + ", " +
                            number(b.first_internal_mode / b.crossover, 1) +
                            " times the highest frequency played (" + top + "): harmless.");
    else
        b.remarks.push_back("The air inside first resonates at " + first +
                            ", within an octave of the highest frequency played (" + top +
                            "): choose proportions with a shorter longest side, or fill well.");
    std::array side{b.inner.width, b.inner.depth, b.inner.height};
    std::sort(side.begin(), side.end());
    if (side[1] / side[0] < 1.04 && side[2] / side[1] < 1.04)
        b.remarks.push_back(
            "Inside this is almost a cube: its resonances fall together. Other "
            "[box] proportions, 1.05 : 1.2 : 1 say, part them.");
    if (b.outer.height + s.design.enclosure.feet > s.wanted.spots.tallest + 1e-9)
        b.remarks.push_back("It is taller than [spots] tallest allows (" +
                            format_both(s.wanted.spots.tallest, units) + ").");
    const auto left = depth_left(b.inner, s.design.enclosure);
    if (left && *left < behind_magnet)
        b.remarks.push_back("Behind the driver's magnet stay only " + format_both(*left, units) +
                            ": it wants " + format_both(behind_magnet, units) + " of air or more.");
    const double deep = lies(b.facing) ? b.inner.height : b.inner.depth;
    const double run = (deep - b.braces * b.thickness) / (b.braces + 1);
    const double panel = b.thickness * (b.double_front ? 2 : 1);
    if (b.braces > 0 && s.design.enclosure.driver_depth &&
        *s.design.enclosure.driver_depth - panel > run)
        b.remarks.push_back(
            "The driver reaches into the first brace: see that its magnet goes "
            "through the window, or set the brace further back.");
}

void remark_on_filling(BoxBuild& b, Units units) {
    if (b.filling_gain <= 1) {
        b.remarks.push_back(
            "Without filling the net volume counts as it is. 10 to 30 % more is "
            "common practice with one; 40 % is the limit of physics (isothermal).");
        return;
    }
    b.remarks.push_back(
        "Filling: about " + format_weight(b.filling_mass, units) + ", packed at " +
        number(b.filling_mass / b.net, 0) + " g per litre, is counted on to make the air seem " +
        number(100 * (b.filling_gain - 1), 0) +
        " % larger. Practice gets 10 to 30 %, physics allows 40 % (isothermal); nobody can "
        "foretell it closely: measure fc, and add or take out.");
    if (b.filling_gain > 1.3) b.remarks.push_back("A gain above 1.30 is more than practice gets.");
}

void write_cautions(BoxBuild& b, const Scenario& s, Units units) {
    const double degrees = b.tipping_angle * 180 / std::numbers::pi;
    b.cautions = {
        "Dust: board dust, MDF above all, harms lungs. Extraction at the tool and a fitted "
        "respirator (P2, N95 or better), outdoors if you can.",
        "Saw and router: guard on, push stick, work clamped, eyes and ears protected, the plug "
        "out when you change a blade or bit. Many timber merchants cut sheets to size."};
    if (b.weight > 15)
        b.cautions.push_back("Lifting: about " + format_weight(b.weight, units) +
                             (b.weight > 25
                                  ? "; lift it with two, and put the driver in where it will stand."
                                  : "; lift from the knees, or with two."));
    // A small child pulling itself up brings about 100 N to bear (assumed), and not below its
    // chest; a low box slides before it tips.
    const double top = b.outer.height + b.feet;
    const bool loose = degrees < 15 || (top > 0.5 && b.tipping_push < 100);
    b.cautions.push_back("Tipping: it goes over its " + b.tipping_edge + " edge beyond " +
                         number(degrees, 0) + " degrees, or by a level push of " +
                         number(b.tipping_push, 0) + " N (" +
                         number(b.tipping_push / 4.4482216, 0) + " lbf) at the top" +
                         (loose ? ": a child can do that. Fix it to the wall, or make it lower."
                                : "; fix it to the wall where children climb."));
    const bool amplifier = b.amplifier > 0 || s.design.amplifier.power;
    if (amplifier)
        b.cautions.push_back(
            "Mains: wiring an amplifier to the mains is left to licensed practice "
            "and your local code; unplug before you open anything.");
    if (b.amplifier > 0)
        b.cautions.push_back(
            "Heat: keep a hand's breadth (100 mm, 4 in) free behind the "
            "amplifier, cooling fins upright, no filling against its case.");
    b.cautions.push_back(
        "Edges: round every outer edge by 3 mm (1/8 in) or more; a box stands at "
        "the height of a child's head.");
}

}  // namespace

void write_building_words(BoxBuild& build, const Scenario& scenario, Units units) {
    remark_on_estimates(build, units);
    remark_on_bracing(build, units);
    remark_on_shape(build, scenario, units);
    remark_on_filling(build, units);
    write_cautions(build, scenario, units);
}

}  // namespace boxroom
