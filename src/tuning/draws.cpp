#include "tuning/draws.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "solvers/constructions.hpp"
#include "solvers/stretched_room.hpp"

namespace boxroom {
namespace {

/// Uniform in -1 .. 1, the same on every platform.
double uniform(std::mt19937_64& random) {
    return static_cast<double>(random() >> 11) * 0x1p-52 - 1;
}

/// Between 1/widest and widest, uniform in the logarithm.
double factor(double widest, std::mt19937_64& random) {
    return std::pow(widest, uniform(random));
}

double parallel(double a, double b) {
    return a * b / (a + b);
}

void multiply(std::optional<double>& value, double by) {
    if (value) *value *= by;
}

/// A wall given in numbers is known better than one by name: the factor on its resistance.
constexpr double most_for_numbers = 1.5;

/// Multiplies the resistance of every surface of a room by factor_of(widest).
template <typename Factor>
void vary_surfaces(Room& room, double widest, const Factor& factor_of) {
    const auto vary = [&](Wall& wall, const std::string& description) {
        const bool named = rests_on_a_name(description);
        const double by = factor_of(named ? widest : std::min(widest, most_for_numbers));
        for (Branch& branch : wall.branches) branch.resistance *= by;
    };
    for (std::size_t w = 0; w < room.walls.size(); ++w)
        vary(room.walls[w], room.wall_description[w]);
    for (NamedWall& edge : room.plan.edges) vary(edge.wall, edge.description);
    for (Block& block : room.plan.blocks) vary(block.surface.wall, block.surface.description);
    for (Space& space : room.plan.spaces)
        for (NamedWall& wall : space.walls) vary(wall.wall, wall.description);
}

}  // namespace

Room with_hardness(const Scenario& scenario, double share) {
    Room room = scenario.acoustics.room;
    const double widest = scenario.judgement.uncertainty.wall;
    vary_surfaces(room, widest, [share](double most) { return std::pow(most, share); });
    // Contents are hard where there is less of them.
    if (!room.contents.empty()) room.contents.area *= std::pow(widest, -share);
    return room;
}

Point moved(Point p, const Room& was, const Room& is, const Point& shift) {
    if (!is.is_rectangle()) {
        const Point there = stretched(p, stretch_between(was, is));
        for (const double share : {1.0, 0.5, 0.25, 0.125}) {
            const Point q{there.x + share * shift.x, there.y + share * shift.y,
                          there.z + share * shift.z};
            if (in_air(is, q)) return q;
        }
        return there;
    }
    const auto along = [](double x, double old_side, double side, double by) {
        return std::clamp((x > old_side / 2 ? x + side - old_side : x) + by, 0.0, side);
    };
    return {along(p.x, was.width, is.width, shift.x), along(p.y, was.length, is.length, shift.y),
            std::clamp(p.z + shift.z, 0.0, is.height)};
}

DriverParts widest_parts(double d) {
    const double suspension = std::pow(1 + d, 2), rest = std::sqrt(1 + d);
    return {suspension, rest, rest, rest, suspension};
}

DriverSheet drawn_driver(const DriverSheet& sheet, const DriverParts& by, const Air& air) {
    const double q = std::sqrt(by.mass / by.compliance);  // of the mass on the spring alone
    const double electrical = q * by.coil / (by.magnet * by.magnet), mechanical = q / by.losses;
    DriverSheet d = sheet;
    d.fs /= std::sqrt(by.compliance * by.mass);
    d.vas *= by.compliance;
    multiply(d.qes, electrical);
    multiply(d.qms, mechanical);
    multiply(d.re, by.coil);
    multiply(d.bl, by.magnet);
    multiply(d.mms, by.mass);
    const Driver nominal = complete_driver(sheet, air);
    d.qts *= nominal.qes && nominal.qms
                 ? parallel(*nominal.qes * electrical, *nominal.qms * mechanical) /
                       parallel(*nominal.qes, *nominal.qms)
                 : electrical;
    // A sheet that contradicts itself (complete_driver has warned) must not become an impossible
    // one.
    for (const auto& other : {d.qes, d.qms})
        if (other) d.qts = std::min(d.qts, 0.999 * *other);
    return d;
}

Draw draw_inputs(const Scenario& scenario, int n) {
    const Uncertainty& by = scenario.judgement.uncertainty;
    std::mt19937_64 random(by.seed * 6364136223846793005u + static_cast<std::uint64_t>(n));
    random.discard(16);  // neighbouring seeds begin alike
    Draw draw{scenario.acoustics.room, scenario.seats, {}, {}};
    Room sides = draw.room;
    for (double* side : {&sides.width, &sides.length, &sides.height})
        *side += by.room * uniform(random);
    draw.room = stretched(draw.room, stretch_between(draw.room, sides));
    vary_surfaces(draw.room, by.wall, [&random](double widest) { return factor(widest, random); });
    if (!draw.room.contents.empty()) draw.room.contents.area *= factor(by.wall, random);
    const double ears = by.seat * uniform(random);
    for (Seat& seat : draw.seats) {
        const double dx = by.seat * uniform(random), dy = by.seat * uniform(random);
        seat.at = moved(seat.at, scenario.acoustics.room, draw.room, {dx, dy, ears});
    }
    for (int k = 0; k < 4; ++k) {
        const double dx = by.sub * uniform(random), dy = by.sub * uniform(random);
        draw.shift.push_back({dx, dy, 0});
    }
    DriverParts parts = widest_parts(by.driver);
    for (double* part : {&parts.compliance, &parts.mass, &parts.coil, &parts.magnet, &parts.losses})
        *part = factor(*part, random);
    draw.driver = drawn_driver(scenario.design.driver, parts, scenario.acoustics.air);
    return draw;
}

}  // namespace boxroom
