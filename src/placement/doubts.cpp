#include "placement/doubts.hpp"

#include <cmath>

#include "base/error.hpp"
#include "base/number.hpp"
#include "placement/listening.hpp"
#include "placement/spots.hpp"
#include "placement/standing.hpp"
#include "woofer/displacement.hpp"

namespace boxroom {
namespace {

void doubt_driver(const Driver& d, Units units, std::vector<std::string>& out) {
    if (d.fs > 100 || d.fs < 10)
        out.push_back("fs of " + number(d.fs, 0) +
                      " Hz: is it meant? Woofers for closed boxes have 15 to 60 Hz.");
    if (d.vas > 0.5)
        out.push_back("Vas of " + format_volume(d.vas, units) +
                      ": is it meant? Only the largest woofers have more than 500 L (18 ft3).");
    if (d.qts > 0.9)
        out.push_back("Qts of " + number(d.qts, 2) +
                      ": is it meant? Closed boxes want 0.3 to 0.7, and only raise it.");
    if (d.sd && d.xmax && *d.xmax > 0.1 * cone_diameter(*d.sd))
        out.push_back("xmax of " + number(*d.xmax * 1e3, 1) + " mm for a cone of " +
                      number(cone_diameter(*d.sd) * 1e3, 0) +
                      " mm: is it one way? Where the sheet says peak to peak, write half.");
}

void doubt_places(const Scenario& s, const Driver& driver, std::vector<std::string>& out) {
    std::vector<std::string> said;
    const double volume = chosen_box(s, driver, said).volume;
    const Room& room = s.acoustics.room;
    for (std::size_t n = 0; n < s.placed.subs.size(); ++n) {
        const PlacedSub& sub = s.placed.subs[n];
        const BoxStanding box = standing_in_file(s, n, volume);
        const double x0 = box.footprint.x - box.sides.width / 2, x1 = x0 + box.sides.width;
        const double y0 = box.footprint.y - box.sides.depth / 2, y1 = y0 + box.sides.depth;
        constexpr double slack = 0.01;
        if (x0 < -slack || y0 < -slack || x1 > room.width + slack || y1 > room.length + slack)
            out.push_back("the box of \"" + sub.name +
                          "\" reaches into a wall: `at` is the middle of its cone; write `box_at` "
                          "for the centre of the box.");
        for (const KeepOut& k : s.wanted.keep_outs)
            if (x0 < k.x1 - slack && x1 > k.x0 + slack && y0 < k.y1 - slack && y1 > k.y0 + slack)
                out.push_back("the box of \"" + sub.name +
                              "\" stands on floor that is kept free (" + k.name + ").");
        for (const Seat& seat : s.seats)
            if (seat.at.x > x0 && seat.at.x < x1 && seat.at.y > y0 && seat.at.y < y1)
                out.push_back("the box of \"" + sub.name + "\" stands where \"" + seat.name +
                              "\" sits.");
    }
}

/// No spot of the grid takes even a small box.
bool floor_is_full(const Scenario& s) {
    try {
        const Sides small = enclosure(0.005, s.design.enclosure);
        const SpotGrid grid(s, small);
        for (int spot = 0; spot < grid.size(); ++spot)
            if (grid.fits(spot, small)) return false;
    } catch (const Error&) {
    }
    return true;
}

}  // namespace

std::vector<std::string> doubts(const Scenario& scenario, const Driver& driver, Units units) {
    std::vector<std::string> out;
    doubt_driver(driver, units, out);
    doubt_places(scenario, driver, out);
    if (floor_is_full(scenario))
        out.push_back("no box of even 5 L may stand anywhere: loosen [[keep_out]] or [spots].");
    const SpotRules& spots = scenario.wanted.spots;
    if (spots.way > 0 && scenario.wanted.doors.empty())
        out.push_back(
            "[spots] way keeps nothing free: no [[opening]] in a wall reaches the floor.");
    return out;
}

}  // namespace boxroom
