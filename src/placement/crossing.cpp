#include "placement/crossing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.hpp"
#include "placement/cone_load.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

constexpr double longest_shift = 15e-3;  // [s], either way

/// Pressures at the seats (F,S) of several sources: sum over q of Z (F,S,Q) U (F,Q).
std::vector<Complex> pressure(std::span<const Complex> z, std::span<const Complex> u,
                              std::size_t frequencies, std::size_t seats) {
    std::vector<Complex> p(frequencies * seats);
    const std::size_t sources = u.size() / frequencies;
    for (std::size_t f = 0; f < frequencies; ++f)
        for (std::size_t s = 0; s < seats; ++s)
            for (std::size_t q = 0; q < sources; ++q)
                p[f * seats + s] += z[(f * seats + s) * sources + q] * u[f * sources + q];
    return p;
}

std::vector<double> squared(std::span<const Complex> p) {
    std::vector<double> power;
    for (const Complex& value : p) power.push_back(std::norm(value));
    return power;
}

std::vector<double> average_db(const Judge& judge, std::span<const Complex> p) {
    std::vector<double> level = judge.seat_average(squared(p));
    for (double& value : level) value = level_db(value);
    return level;
}

/// Subs and mains within half an octave of the crossover, weights summing to one.
struct Overlap {
    struct Meeting {
        double frequency, weight;
        Complex subs, mains;
    };
    std::vector<Meeting> meetings;

    Overlap(const Judge& judge, double crossover, std::span<const Complex> subs,
            std::span<const Complex> mains) {
        const Band around{crossover / std::numbers::sqrt2, crossover * std::numbers::sqrt2};
        const auto f = judge.frequency();
        if (std::ranges::none_of(f, [&](double x) { return around.contains(x); })) return;
        const auto weight = log_mean_weights(f, around);
        for (std::size_t n = 0; n < f.size(); ++n)
            for (std::size_t s = 0; s < judge.seats(); ++s)
                if (weight[n] > 0)
                    meetings.push_back({f[n], weight[n] * judge.seat_weight()[s],
                                        subs[n * judge.seats() + s], mains[n * judge.seats() + s]});
    }

    double loss_db(const Dial& of_subs) const {
        double loss = 0;
        for (const Meeting& m : meetings) {
            const Complex turned = m.subs * of_subs.factor(m.frequency);
            const double apart = std::abs(turned) + std::abs(m.mains);
            const double together = std::max(std::abs(turned + m.mains), 1e-6 * apart);
            if (apart > 0) loss += m.weight * db_of_amplitude(apart / together);
        }
        return loss;
    }
};

std::string advice_words(const Crossing& c) {
    const std::string now = "Around " + number(c.frequency, 0) + " Hz subs and mains lose " +
                            number(c.as_set.loss_db, 1) + " dB by arriving out of step";
    if (c.as_set.loss_db - c.best.loss_db < 0.3) return now + "; no delay would mend much of it.";
    std::string change;
    const Dial& best = c.best.subs;
    if (best.delay != 0)
        change = (best.delay > 0 ? "delaying all subs by " : "delaying the mains by ") +
                 number(1e3 * std::abs(best.delay), 1) + " ms";
    if (best.polarity < 0)
        change += std::string(change.empty() ? "" : " and ") + "turning the polarity of all subs";
    return now + "; " + change + " leaves " + number(c.best.loss_db, 1) + " dB.";
}

}  // namespace

std::vector<Complex> main_velocity(const MainSpeaker& speaker, const Scenario& scenario,
                                   const Driver& driver) {
    // A sheet's sensitivity is measured in free field, a sub's passband counts on the floor.
    const double from_one_pascal_metre = (speaker.sensitivity ? 4 : 2) * pi;
    const double pressure_at_1_m = speaker.sensitivity
                                       ? reference_pressure * amplitude_of_db(*speaker.sensitivity)
                                       : passband_pressure(driver, scenario.acoustics.air);
    const Crossover low_end{Crossover::Kind::butterworth, speaker.low_end_order,
                            speaker.low_end.value_or(1)};
    std::vector<Complex> u;
    for (const double f : scenario.acoustics.frequency) {
        Complex drive = pressure_at_1_m * speaker.dial.factor(f);
        if (speaker.low_end) drive *= low_end.high_pass(f);
        if (scenario.placed.crossover && speaker.high_pass)
            drive *= scenario.placed.crossover->high_pass(f);
        u.push_back(from_one_pascal_metre * drive /
                    Complex{0, 2 * pi * f * scenario.acoustics.air.density});
    }
    return u;
}

Crossing cross(const Scenario& scenario, const Driver& driver, const Listening& heard,
               std::span<const Complex> main_transfer) {
    const auto& frequency = heard.frequency;
    const std::size_t frequencies = frequency.size(), seats = heard.seats.size(),
                      mains = scenario.placed.mains.size();
    Crossing out;
    out.grid = frequency;
    if (scenario.placed.crossover) {
        out.filtered = true;
        out.type = crossover_name(scenario.placed.crossover->kind);
        out.order = scenario.placed.crossover->order,
        out.frequency = scenario.placed.crossover->frequency;
    }

    // 1. Both at the seats.
    std::vector<Complex> low = heard.volume_velocity, high(frequencies * mains);
    for (std::size_t f = 0; f < frequencies && scenario.placed.crossover; ++f)
        for (std::size_t q = 0; q < heard.subs.size(); ++q)
            low[f * heard.subs.size() + q] *= scenario.placed.crossover->low_pass(frequency[f]);
    for (std::size_t m = 0; m < mains; ++m) {
        out.mains.push_back(scenario.placed.mains[m].name);
        const auto u = main_velocity(scenario.placed.mains[m], scenario, driver);
        for (std::size_t f = 0; f < frequencies; ++f) high[f * mains + m] = u[f];
    }
    const auto from_subs = pressure(heard.transfer_impedance, low, frequencies, seats);
    const auto from_mains = pressure(main_transfer, high, frequencies, seats);

    // 2. Their sum, and what it is worth.
    const Judge judge(frequency, heard.seats, scenario.judgement.target);
    std::vector<Complex> sum = from_subs;
    for (std::size_t n = 0; n < sum.size(); ++n) sum[n] += from_mains[n];
    out.subs_db = average_db(judge, from_subs);
    if (mains > 0) out.mains_db = average_db(judge, from_mains);
    out.sum_db = average_db(judge, sum);
    for (const Complex& p : sum) out.level_db.push_back(level_db(std::norm(p)));
    judge.judge_seats(squared(sum), out.criteria);
    judge.judge_average(judge.seat_average(squared(sum)), out.criteria);

    // 3. Whether they arrive in step.
    if (!out.filtered || mains == 0) return out;
    const Overlap overlap(judge, out.frequency, from_subs, from_mains);
    if (overlap.meetings.empty()) return out;
    out.judged = true;
    out.as_set = out.best = {{}, overlap.loss_db({})};
    const int steps = static_cast<int>(longest_shift / scenario.wanted.steps.delay);
    for (int n = -steps; n <= steps; ++n)
        for (const int polarity : {1, -1}) {
            const Dial dial{0, n * scenario.wanted.steps.delay, polarity};
            const double loss = overlap.loss_db(dial);
            if (loss < out.best.loss_db - 1e-9) out.best = {dial, loss};
        }
    out.advice = advice_words(out);
    return out;
}

Crossing cross(const Scenario& scenario, const Driver& driver, const Listening& heard) {
    std::vector<Point> from, to;
    for (const MainSpeaker& speaker : scenario.placed.mains) from.push_back(speaker.at);
    for (const Seat& seat : heard.seats) to.push_back(seat.at);
    std::vector<Complex> z;
    if (!from.empty())
        z = room_transfer(scenario.acoustics.room, scenario.acoustics.air, heard.frequency, from,
                          to, scenario.acoustics.solver)
                .value;
    return cross(scenario, driver, heard, z);
}

Listening listen_with_mains(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                            const std::vector<PlacedSub>& subs, Crossing& crossing) {
    std::vector<Point> from, to;
    for (const PlacedSub& sub : subs) from.push_back(sub.at);
    for (const MainSpeaker& speaker : scenario.placed.mains) from.push_back(speaker.at);
    for (const Seat& seat : scenario.seats) to.push_back(seat.at);
    const auto z = room_transfer(scenario.acoustics.room, scenario.acoustics.air,
                                 scenario.acoustics.frequency, from, to, scenario.acoustics.solver);
    std::vector<Complex> of_subs, of_mains;
    for (std::size_t row = 0; row < z.frequencies * z.receivers; ++row)
        for (std::size_t q = 0; q < z.sources; ++q)
            (q < subs.size() ? of_subs : of_mains).push_back(z.value[row * z.sources + q]);
    const Listening heard = listen_through(scenario, driver, box, subs, std::move(of_subs),
                                           asked_cone_impedance(scenario, driver, subs));
    crossing = cross(scenario, driver, heard, of_mains);
    return heard;
}

}  // namespace boxroom
