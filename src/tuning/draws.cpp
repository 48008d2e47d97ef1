#include "tuning/draws.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include "solvers/constructions.hpp"

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

}  // namespace

Point moved(Point p, const Room& was, const Room& is, const Point& shift) {
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
    for (double* side : {&draw.room.width, &draw.room.length, &draw.room.height})
        *side += by.room * uniform(random);
    for (std::size_t w = 0; w < draw.room.walls.size(); ++w) {
        const bool named = rests_on_a_name(scenario.acoustics.room.wall_description[w]);
        const double softer = factor(named ? by.wall : std::min(by.wall, most_for_numbers), random);
        for (Branch& branch : draw.room.walls[w].branches) branch.resistance *= softer;
    }
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
