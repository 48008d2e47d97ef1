#include "placement/floor_need.hpp"

#include <algorithm>
#include <cmath>
#include <complex>

#include "base/error.hpp"
#include "base/number.hpp"
#include "placement/spots.hpp"

namespace boxroom {
namespace {

constexpr double program = 60e6;      // with what draws, before any room [bytes]
constexpr double solving = 4.0 / 3;   // the fields, and what DecayingTerms keeps beside them
constexpr double per_spot = 2e3;      // criteria, places, rows of tables [bytes]
constexpr double coarse_step = 0.20;  // [m]
constexpr double widest_step = 2.0;   // [m]

double free_spots(const Scenario& scenario, const Sides& box, double step) {
    Scenario coarse = scenario;
    coarse.wanted.spots.step = std::max(step, coarse_step);
    const SpotGrid grid(coarse, box);
    double free = 0;
    for (int spot = 0; spot < grid.size(); ++spot) free += grid.fits(spot, box);
    const double finer = coarse.wanted.spots.step / step;
    return free * finer * finer;
}

double bytes_for(const Scenario& scenario, double spots, FloorSearch search) {
    const double kinds =
        search == FloorSearch::many_subs
            ? static_cast<double>(std::max<std::size_t>(1, scenario.wanted.set_volumes.size()))
            : 1;
    const double copies = search == FloorSearch::one_box ? 1 : search == FloorSearch::boxes ? 4 : 5;
    const double field = solving * 8.0 * static_cast<double>(scenario.acoustics.frequency.size()) *
                         static_cast<double>(scenario.seats.size());
    const double candidates = spots * kinds;
    const double pairs = search == FloorSearch::many_subs ? candidates * candidates : 0;
    return program + candidates * (copies * field + per_spot) + pairs;
}

std::string centimetres(double length) {
    const bool whole = std::abs(100 * length - std::round(100 * length)) < 1e-6;
    return number(100 * length, whole ? 0 : 1) + " cm";
}

/// Rounded to two digits: no more are known.
std::string two_digits(double count) {
    const double step = std::pow(10.0, std::max(0.0, std::floor(std::log10(count)) - 1));
    return number(std::round(count / step) * step, 0);
}

std::string gigabytes(double bytes) {
    return number(bytes / 1e9, bytes < 9.5e9 ? 1 : 0) + " GB";
}

}  // namespace

void require_memory_for_listening(const Scenario& scenario, double most_bytes) {
    const auto& frequency = scenario.acoustics.frequency;
    const std::size_t subs = scenario.placed.subs.size() + scenario.placed.mains.size(),
                      seats = scenario.seats.size();
    const double bytes = program + 4.0 * sizeof(std::complex<double>) *
                                       static_cast<double>(frequency.size()) *
                                       static_cast<double>(subs) * static_cast<double>(seats);
    if (bytes <= most_bytes) return;
    throw Error("[[sub]]",
                std::to_string(subs) + " subs and main loudspeakers, " + std::to_string(seats) +
                    " seats and " + std::to_string(frequency.size()) + " frequencies take " +
                    gigabytes(bytes) + " of memory, more than " + gigabytes(most_bytes),
                "keep to fewer of any of them");
}

FloorNeed floor_need(const Scenario& scenario, const ClosedBox& smallest, FloorSearch search) {
    const Sides box = enclosure(smallest.volume, scenario.design.enclosure);
    const double spots = free_spots(scenario, box, scenario.wanted.spots.step);
    return {spots, bytes_for(scenario, spots, search)};
}

void require_memory_for_floor(const Scenario& scenario, const ClosedBox& smallest,
                              FloorSearch search, double most_bytes) {
    const FloorNeed need = floor_need(scenario, smallest, search);
    if (need.bytes <= most_bytes) return;
    const double step = scenario.wanted.spots.step;
    double wider = step;  // in whole centimetres
    const auto spots = [&] { return need.spots * step * step / (wider * wider); };
    while (wider < widest_step && bytes_for(scenario, spots(), search) > most_bytes)
        wider = (std::floor(wider * 100 + 1e-6) + 1) / 100;
    const std::string more = "--memory " + number(std::ceil(need.bytes / 1e9), 0) + " allows it";
    throw Error("[spots] step",
                centimetres(step) + " between spots make about " + two_digits(need.spots) +
                    " of them and take " + gigabytes(need.bytes) + " of memory, more than " +
                    gigabytes(most_bytes),
                wider < widest_step ? "write step = \"" + centimetres(wider) + "\"; " + more
                                    : "keep to fewer seats or frequencies; " + more);
}

}  // namespace boxroom
