#include "placement/listening.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/error.hpp"
#include "placement/box_sweep.hpp"
#include "placement/cone_load.hpp"
#include "placement/pressure.hpp"

namespace boxroom {

using Complex = std::complex<double>;

std::vector<double> half_space_power(std::span<const double> frequency,
                                     std::span<const Complex> volume_velocity, const Air& air) {
    std::vector<double> power(frequency.size());
    for (std::size_t f = 0; f < frequency.size(); ++f)
        power[f] = std::norm(frequency[f] * air.density * volume_velocity[f]);
    return power;
}

ClosedBox chosen_box(const Scenario& scenario, const Driver& driver,
                     std::vector<std::string>& warnings) {
    if (scenario.design.box_volume)
        return closed_box(driver, *scenario.design.box_volume, scenario.design.filling);
    const double qtc = std::max(textbook_qtc, 1.05 * driver.qts);
    warnings.push_back(
        qtc > textbook_qtc
            ? "no [box] volume given and Qts is above 0.707: took the box 5 % above Qts"
            : "no [box] volume given: took the box with Qtc 0.707");
    return closed_box_for_qtc(driver, qtc, scenario.design.filling);
}

/// The sub that is driven furthest meets its limit first; the others follow it. The cone's way is
/// that under the room's pressure, where that is counted.
static void add_loudest(const Scenario& scenario, const Driver& driver,
                        const std::vector<ClosedBox>& boxes, const Sources& sources,
                        Listening& result) {
    std::vector<DriveCeiling> ceiling;
    for (const ClosedBox& box : boxes) {
        ceiling.push_back(drive_ceiling(driver, box, scenario.design.amplifier, result.frequency,
                                        scenario.acoustics.air));
        if (!ceiling.back().known()) return;
    }
    for (std::size_t f = 0; f < result.frequency.size(); ++f) {
        double room_left = HUGE_VAL;
        std::size_t first = 0;
        for (std::size_t q = 0; q < boxes.size(); ++q) {
            const bool travel = ceiling[q].limited_by[f] == DriveLimit::excursion;
            const double reached = std::abs(travel ? sources.velocity(f, q) : sources.free(f, q));
            const double left = ceiling[q].volume_velocity[f] / reached;
            if (left < room_left) room_left = left, first = q;
        }
        const double rise = db_of_amplitude(room_left);
        result.max_level_db.push_back(result.seat_average_db[f] + rise);
        result.half_space_max_level_db.push_back(result.half_space_db[f] + rise);
        result.limited_by.push_back(limit_name(ceiling[first].limited_by[f]));
    }
}

ByFrequency<Complex> transfer_to_seats(const Scenario& scenario, std::span<const Point> sources) {
    auto z =
        room_transfer(scenario.acoustics.room, scenario.acoustics.air, scenario.acoustics.frequency,
                      sources, places_of(scenario.seats), scenario.acoustics.solver);
    return {z.frequencies, z.receivers, z.sources, std::move(z.value)};
}

Listening listen(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                 const std::vector<PlacedSub>& subs) {
    if (subs.empty())
        throw Error(scenario.title, "no [[sub]] is placed in the file",
                    "add [[sub]] with at = [x, y, z], or use `rank` or `plan` to find a place");
    return listen_through(
        scenario, driver, box, subs, transfer_to_seats(scenario, places_of(subs)),
        asked_cone_impedance(scenario, driver, subs, scenario.acoustics.frequency));
}

Listening listen_through(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                         const std::vector<PlacedSub>& subs,
                         ByFrequency<Complex> transfer_impedance,
                         const ByFrequency<Complex>& cones) {
    const auto& frequency = scenario.acoustics.frequency;
    transfer_impedance.require(frequency.size(), scenario.seats.size(), subs.size());
    Listening result;
    result.frequency = frequency;
    result.seats = scenario.seats;
    result.subs = subs;
    result.absolute = driver.absolute();
    result.transfer_impedance = std::move(transfer_impedance);

    // 1. The subs, with their settings.
    const auto boxes = boxes_of(scenario, driver, box, subs);
    const Sources sources = sources_of(scenario, driver, boxes, subs, frequency, cones);
    result.volume_velocity = sources.velocity;
    result.cone_load_db = sources.cone_load_db;

    // 2. Their sum at the seats, and what it is worth.
    const auto pressure = pressure_at(result.transfer_impedance, result.volume_velocity);
    const auto power = squared(pressure);
    result.level_db = levels(power);
    result.phase_deg = {pressure.frequencies(), pressure.rows()};
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t s = 0; s < pressure.rows(); ++s)
            result.phase_deg(f, s) = std::arg(pressure(f, s)) * 180 / std::numbers::pi;
    const Judge judge(frequency, scenario.seats, scenario.judgement.target);
    const auto average = judge.seat_average(power);
    judge.judge_seats(power, result.criteria);
    judge.judge_average(average, result.criteria);

    // 3. Beside the same subs on an endless floor, in step with each other, and as loud as it goes.
    std::vector<Complex> together(frequency.size());
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (const Complex& u : sources.free.at(f)) together[f] += std::abs(u);
    const auto half_space = half_space_power(frequency, together, scenario.acoustics.air);
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        result.seat_average_db.push_back(level_db(average[f]));
        result.half_space_db.push_back(level_db(half_space[f]));
        result.lift_db.push_back(result.seat_average_db[f] - result.half_space_db[f]);
    }
    add_loudest(scenario, driver, boxes, sources, result);
    result.target_db = judge.target_curve(result.criteria.level_db);
    result.criteria.score =
        score(result.criteria, result.criteria.level_db, scenario.judgement.weights);
    return result;
}

std::vector<double> spread_by_frequency(const Listening& response) {
    const std::size_t seats = response.seats.size();
    std::vector<double> out;
    if (seats == 0 || response.level_db.rows() != seats ||
        response.level_db.frequencies() != response.frequency.size())
        return out;
    for (std::size_t f = 0; f < response.frequency.size(); ++f) {
        const auto level = response.level_db.at(f);
        double weight = 0, sum = 0, squares = 0;
        for (std::size_t s = 0; s < seats; ++s)
            weight += response.seats[s].weight, sum += response.seats[s].weight * level[s];
        const double mean = sum / weight;
        for (std::size_t s = 0; s < seats; ++s)
            squares += response.seats[s].weight * (level[s] - mean) * (level[s] - mean);
        out.push_back(std::sqrt(squares / weight));
    }
    return out;
}

}  // namespace boxroom
