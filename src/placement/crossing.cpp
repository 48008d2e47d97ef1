#include "placement/crossing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.hpp"
#include "placement/cone_load.hpp"
#include "placement/pressure.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

constexpr double longest_shift = 15e-3;  // [s], either way

std::vector<double> average_db(const Judge& judge, const ByFrequency<Complex>& pressure) {
    std::vector<double> level = judge.seat_average(squared(pressure));
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

    Overlap(const Judge& judge, double crossover, const ByFrequency<Complex>& subs,
            const ByFrequency<Complex>& mains) {
        const Band around{crossover / std::numbers::sqrt2, crossover * std::numbers::sqrt2};
        const auto f = judge.frequency();
        if (std::ranges::none_of(f, [&](double x) { return around.contains(x); })) return;
        const auto weight = log_mean_weights(f, around);
        for (std::size_t n = 0; n < f.size(); ++n)
            for (std::size_t s = 0; s < judge.seats(); ++s)
                if (weight[n] > 0)
                    meetings.push_back(
                        {f[n], weight[n] * judge.seat_weight()[s], subs(n, s), mains(n, s)});
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

namespace {

/// The subs through the low-pass (F,Q), and the mains (F,M).
ByFrequency<Complex> low_passed(const Scenario& scenario, const Listening& heard) {
    ByFrequency<Complex> u = heard.volume_velocity;
    if (scenario.placed.crossover)
        for (std::size_t f = 0; f < heard.frequency.size(); ++f)
            for (Complex& one : u.at(f))
                one *= scenario.placed.crossover->low_pass(heard.frequency[f]);
    return u;
}

ByFrequency<Complex> main_velocities(const Scenario& scenario, const Driver& driver) {
    const auto& mains = scenario.placed.mains;
    ByFrequency<Complex> all(scenario.acoustics.frequency.size(), mains.size());
    for (std::size_t m = 0; m < mains.size(); ++m) {
        const auto u = main_velocity(mains[m], scenario, driver);
        for (std::size_t f = 0; f < u.size(); ++f) all(f, m) = u[f];
    }
    return all;
}

/// The delay and polarity of all subs that lose least, by trying every one.
Agreement best_agreement(const Overlap& overlap, double step) {
    Agreement best{{}, overlap.loss_db({})};
    const int steps = static_cast<int>(longest_shift / step);
    for (int n = -steps; n <= steps; ++n)
        for (const int polarity : {1, -1}) {
            const Dial dial{0, n * step, polarity};
            const double loss = overlap.loss_db(dial);
            if (loss < best.loss_db - 1e-9) best = {dial, loss};
        }
    return best;
}

}  // namespace

Crossing cross(const Scenario& scenario, const Driver& driver, const Listening& heard,
               const ByFrequency<Complex>& main_transfer) {
    const auto& frequency = heard.frequency;
    const bool mains = !scenario.placed.mains.empty();
    Crossing out;
    out.grid = frequency;
    if (scenario.placed.crossover) {
        out.filtered = true;
        out.type = crossover_name(scenario.placed.crossover->kind);
        out.order = scenario.placed.crossover->order,
        out.frequency = scenario.placed.crossover->frequency;
    }

    // 1. Both at the seats.
    const auto from_subs = pressure_at(heard.transfer_impedance, low_passed(scenario, heard));
    ByFrequency<Complex> from_mains(frequency.size(), heard.seats.size());
    if (mains) {
        main_transfer.require(frequency.size(), heard.seats.size(), scenario.placed.mains.size());
        from_mains = pressure_at(main_transfer, main_velocities(scenario, driver));
    }
    for (const MainSpeaker& main : scenario.placed.mains) out.mains.push_back(main.name);

    // 2. Their sum, and what it is worth.
    const Judge judge(frequency, heard.seats, scenario.judgement.target);
    ByFrequency<Complex> sum = from_subs;
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t s = 0; s < sum.rows(); ++s) sum(f, s) += from_mains(f, s);
    out.subs_db = average_db(judge, from_subs);
    if (mains) out.mains_db = average_db(judge, from_mains);
    out.sum_db = average_db(judge, sum);
    const auto power = squared(sum);
    out.level_db = levels(power);
    judge.judge_seats(power, out.criteria);
    judge.judge_average(judge.seat_average(power), out.criteria);

    // 3. Whether they arrive in step.
    if (!out.filtered || !mains) return out;
    const Overlap overlap(judge, out.frequency, from_subs, from_mains);
    if (overlap.meetings.empty()) return out;
    out.judged = true;
    out.as_set = {{}, overlap.loss_db({})};
    out.best = best_agreement(overlap, scenario.wanted.steps.delay);
    out.advice = advice_words(out);
    return out;
}

Crossing cross(const Scenario& scenario, const Driver& driver, const Listening& heard) {
    std::vector<Point> from;
    for (const MainSpeaker& speaker : scenario.placed.mains) from.push_back(speaker.at);
    return cross(scenario, driver, heard,
                 from.empty() ? ByFrequency<Complex>() : transfer_to_seats(scenario, from));
}

Listening listen_with_mains(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                            const std::vector<PlacedSub>& subs, Crossing& crossing) {
    std::vector<Point> from = places_of(subs);
    for (const MainSpeaker& speaker : scenario.placed.mains) from.push_back(speaker.at);
    const auto z = transfer_to_seats(scenario, from);
    ByFrequency<Complex> of_subs(z.frequencies(), z.rows(), subs.size()),
        of_mains(z.frequencies(), z.rows(), from.size() - subs.size());
    for (std::size_t f = 0; f < z.frequencies(); ++f)
        for (std::size_t s = 0; s < z.rows(); ++s)
            for (std::size_t q = 0; q < from.size(); ++q)
                (q < subs.size() ? of_subs(f, s, q) : of_mains(f, s, q - subs.size())) = z(f, s, q);
    const Listening heard =
        listen_through(scenario, driver, box, subs, std::move(of_subs),
                       asked_cone_impedance(scenario, driver, subs, scenario.acoustics.frequency));
    crossing = cross(scenario, driver, heard, of_mains);
    return heard;
}

}  // namespace boxroom
