#include "placement/box_verdict.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "placement/box_sweep.hpp"
#include "placement/listening.hpp"

namespace boxroom {
namespace {

double lowest_wanted(const Target& target) {
    return target.down_to.value_or(target.band.low);
}

ClosedBox box_of(const Scenario& scenario, const Driver& driver, const BoxOption& option) {
    return closed_box(driver, option.volume, scenario.design.filling);
}

/// (F): `average` times |flow|^2.
std::vector<double> driven(std::span<const double> average,
                           std::span<const std::complex<double>> flow) {
    std::vector<double> power(average.begin(), average.end());
    for (std::size_t f = 0; f < power.size(); ++f) power[f] *= std::norm(flow[f]);
    return power;
}

std::vector<std::complex<double>> flow_of(const Scenario& scenario, const Driver& driver,
                                          const BoxOption& option) {
    return volume_velocity(driver, box_of(scenario, driver, option), scenario.acoustics.frequency,
                           scenario.acoustics.air);
}

/// The boxes as the rules see them, by the balance in the room or on the endless floor.
std::vector<BoxChance> chances(const Plan& plan, bool in_room) {
    std::vector<BoxChance> out;
    for (const BoxOption& box : plan.boxes)
        out.push_back({box.volume, box.qtc,
                       in_room ? box.in_room_balance_db : box.half_space_balance_db, box.loudest_db,
                       in_room ? box.fits : box.buildable});
    return out;
}

/// Which of the things that a box follows from moved it furthest from the textbook's.
std::string decider(const Scenario& scenario, const Plan& plan) {
    const auto boxes = chances(plan, true);
    const int chosen = plan.in_room_build;
    const double good =
        boxes[plan.in_room_best].balance_db + scenario.judgement.target.indifference;
    const int next = chosen + 1;  // the next smaller
    if (next < static_cast<int>(boxes.size()) && boxes[next].balance_db <= good)
        return plan.boxes[next].buildable ? "rule" : "driver";
    double lowest = 9, highest = 0;
    for (const BandFinding& one : plan.by_band) {
        lowest = std::min(lowest, one.half_space_qtc);
        highest = std::max(highest, one.half_space_qtc);
    }
    const BandFinding& here = plan.by_band.front();
    return std::abs(here.in_room_qtc - here.half_space_qtc) >= highest - lowest ? "room" : "band";
}

}  // namespace

void find_loudest(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
                  Plan& plan) {
    const Target& target = scenario.judgement.target;
    const Judge judge(scenario.acoustics.frequency, scenario.seats, target);
    const auto average = judge.seat_average(power);
    plan.smallest_for_level = -1;
    for (std::size_t b = 0; b < plan.boxes.size(); ++b) {
        BoxOption& box = plan.boxes[b];
        const auto ceiling =
            drive_ceiling(driver, box_of(scenario, driver, box), scenario.design.amplifier,
                          scenario.acoustics.frequency, scenario.acoustics.air);
        if (!ceiling.known()) return;
        std::vector<double> most = average;
        for (std::size_t f = 0; f < most.size(); ++f)
            most[f] *= ceiling.volume_velocity[f] * ceiling.volume_velocity[f];
        const Judge::Touch touch = judge.highest_target(most, lowest_wanted(target));
        box.loudest_db = touch.level_db;
        box.limited_at_hz = scenario.acoustics.frequency[touch.index];
        box.limited_by = limit_name(ceiling.limited_by[touch.index]);
        // Rising Qtc is falling volume: the last that does is the smallest.
        if (target.level && box.fits && box.loudest_db >= *target.level)
            plan.smallest_for_level = static_cast<int>(b);
    }
}

void find_watts(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
                Plan& plan) {
    const Target& target = scenario.judgement.target;
    const auto load = scenario.design.amplifier.load ? scenario.design.amplifier.load : driver.re;
    const BoxOption& build = plan.boxes[plan.build];
    if (!driver.absolute() || !load || (!target.level && build.limited_by.empty())) return;
    const double level = target.level.value_or(build.loudest_db);
    const Judge judge(scenario.acoustics.frequency, scenario.seats, target);
    const auto average = judge.seat_average(power);
    constexpr double volts = 2.83;
    for (BoxOption& box : plan.boxes) {
        const auto at_volts = driven(average, flow_of(scenario, driver, box));
        const double there = judge.highest_target(at_volts, lowest_wanted(target)).level_db;
        box.watts = volts * volts / *load * power_of_db(level - there);
    }
}

double balance_there(const Scenario& scenario, const Driver& driver,
                     const ByFrequency<double>& power, const BoxOption& box) {
    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    return judge.balance(driven(judge.seat_average(power), flow_of(scenario, driver, box)));
}

void find_balances(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
                   Plan& plan) {
    const Judge judge(scenario.acoustics.frequency, scenario.seats, scenario.judgement.target);
    const auto average = judge.seat_average(power);
    for (BoxOption& box : plan.boxes) {
        const auto flow = flow_of(scenario, driver, box);
        box.in_room_balance_db = judge.balance(driven(average, flow));
        box.half_space_balance_db = judge.balance(
            half_space_power(scenario.acoustics.frequency, flow, scenario.acoustics.air));
    }
}

void choose_boxes(const Scenario& scenario, Plan& plan) {
    const Target& target = scenario.judgement.target;
    const auto room = chances(plan, true), floor = chances(plan, false);
    const BoxNeed need{target.indifference, target.level,
                       scenario.design.equaliser_available.value_or(false),
                       !plan.boxes.front().limited_by.empty()};
    plan.in_room_best = flattest_box(room);
    plan.in_room_build = box_by_balance(room, target.indifference);
    plan.build = box_to_build(room, need);
    plan.half_space_best = 0;  // on paper nothing has to be built
    for (int b = 1; b < static_cast<int>(floor.size()); ++b)
        if (floor[b].balance_db < floor[plan.half_space_best].balance_db) plan.half_space_best = b;
    plan.half_space_build = box_by_balance(floor, target.indifference);
    if (plan.build < 0 || plan.half_space_build < 0)
        throw Error("[box]", "no box of the sweep is allowed here",
                    "loosen [box] largest or heaviest, or widen [box] sweep");
    plan.textbook = 0;
    for (int b = 1; b < static_cast<int>(plan.boxes.size()); ++b)
        if (std::abs(plan.boxes[b].qtc - textbook_qtc) <
            std::abs(plan.boxes[plan.textbook].qtc - textbook_qtc))
            plan.textbook = b;
}

void find_by_band(const Scenario& scenario, const Driver& driver, const ByFrequency<double>& power,
                  Plan& plan) {
    const auto& frequency = scenario.acoustics.frequency;
    const Target& asked = scenario.judgement.target;
    std::vector<Band> bands{asked.band};
    for (const double low : {20.0, 30.0, 40.0})
        if (low >= frequency.front() * (1 - 1e-9) && low < asked.band.high / 1.5 &&
            std::abs(low - asked.band.low) > 0.5 && std::ranges::any_of(frequency, [&](double f) {
                return Band{low, asked.band.high}.contains(f);
            }))
            bands.push_back({low, asked.band.high});
    std::vector<std::vector<std::complex<double>>> flows;
    for (const BoxOption& box : plan.boxes) flows.push_back(flow_of(scenario, driver, box));
    plan.by_band.clear();
    for (const Band& band : bands) {
        Target target = asked;
        target.band = band;
        const Judge judge(frequency, scenario.seats, target);
        const auto average = judge.seat_average(power);
        Plan there;
        there.boxes = plan.boxes;
        for (std::size_t b = 0; b < flows.size(); ++b) {
            there.boxes[b].in_room_balance_db = judge.balance(driven(average, flows[b]));
            there.boxes[b].half_space_balance_db =
                judge.balance(half_space_power(frequency, flows[b], scenario.acoustics.air));
        }
        const auto& boxes = there.boxes;
        const int room = box_by_balance(chances(there, true), asked.indifference);
        const int floor = box_by_balance(chances(there, false), asked.indifference);
        if (room < 0 || floor < 0) continue;
        plan.by_band.push_back(
            {band, boxes[floor].qtc, boxes[floor].volume, boxes[room].qtc, boxes[room].volume});
    }
    plan.decided_by = decider(scenario, plan);
}

}  // namespace boxroom
