// Compiled once for each set of vector instructions: see base/lanes.hpp for what it may read.
#include "tuning/settings_vectors.hpp"

#include "base/lanes.hpp"

namespace boxroom::BOXROOM_VECTORS {
namespace {

/// What each sub is turned by at some frequencies: gain e^{-jw delay}.
struct Turns {
    Complexes<Doubles> of[most_turned];
};
BOXROOM_INLINE Turns turns_at(const SubPressures& p, const double* gain, const double* delay,
                              int f) {
    Turns turns;
    for (int k = 0; k < p.subs; ++k) {
        if (delay[k] == 0) {  // the earliest
            turns.of[k] = {all(gain[k]), Doubles{}};
            continue;
        }
        const auto turned = sine_cosine(load<Doubles>(p.omega + f) * -delay[k]);
        turns.of[k] = {gain[k] * turned.cosine, gain[k] * turned.sine};
    }
    return turns;
}

/// |sum of the subs' pressures, turned|^2 at one seat.
BOXROOM_INLINE Doubles power_at(const SubPressures& p, const Turns& turns, int seat, int f) {
    Complexes<Doubles> sum{};
    for (int k = 0; k < p.subs; ++k) {
        const int at = (k * p.seats + seat) * p.stride + f;
        sum = sum +
              Complexes<Doubles>{load<Doubles>(p.re + at), load<Doubles>(p.im + at)} * turns.of[k];
    }
    return size_squared(sum);
}

void power(const SubPressures& p, const double* gain, const double* delay, int first, int last,
           double* power) {
    for (int f = first / doubles * doubles; f <= last; f += doubles) {
        const Turns turns = turns_at(p, gain, delay, f);
        for (int s = 0; s < p.seats; ++s) {
            const Doubles squared = power_at(p, turns, s, f);
            for (int i = 0; i < doubles; ++i)
                if (f + i >= first && f + i <= last) power[(f + i) * p.seats + s] = squared[i];
        }
    }
}

double total(Doubles x) {
    double sum = 0;
    for (int i = 0; i < doubles; ++i) sum += x[i];
    return sum;
}

/// So many vectors of frequencies are taken together: what one of them works out goes through one
/// long chain, and the processor fills its waits with the others'.
constexpr int together = 8;

/// What is known of the seats at those frequencies.
struct SeatSums {
    Doubles power[together], reference[together], mean[together], square[together];
};

/// Adds a seat. Its level as a difference from the first seat's, so that no large numbers cancel in
/// the variance.
BOXROOM_INLINE void add_seat(const SubPressures& p, const Turns* turns, int seat, double weight,
                             int from, int count, SeatSums& sums) {
    for (int n = 0; n < count; ++n) {
        const Doubles power = power_at(p, turns[n], seat, from + n * doubles),
                      level = logarithm(larger(power, all(4e-40)));
        if (seat == 0) {
            sums.power[n] = weight * power, sums.reference[n] = level;
            sums.mean[n] = sums.square[n] = Doubles{};
            continue;
        }
        const Doubles d = level - sums.reference[n];
        sums.power[n] += weight * power;
        sums.mean[n] += weight * d;
        sums.square[n] += weight * d * d;
    }
}

BOXROOM_INLINE void store_within(Doubles value, int f, int first, int last, double* to) {
    if (f >= first && f + doubles - 1 <= last) return store(to + f, value);
    for (int i = 0; i < doubles; ++i)
        if (f + i >= first && f + i <= last) to[f + i] = value[i];
}

double judge(const SubPressures& p, const double* gain, const double* delay, int first, int last,
             const double* seat_weight, const double* band_weight, double* average) {
    constexpr double decibel = 3.01029995663981195;  // 10 log10(2)
    Doubles spread{};
    for (int from = first / doubles * doubles; from <= last; from += together * doubles) {
        const int left = (last - from) / doubles + 1, count = left < together ? left : together;
        Turns turns[together];
        for (int n = 0; n < count; ++n) turns[n] = turns_at(p, gain, delay, from + n * doubles);
        SeatSums sums;
        for (int s = 0; s < p.seats; ++s) add_seat(p, turns, s, seat_weight[s], from, count, sums);
        for (int n = 0; n < count; ++n) {
            const int f = from + n * doubles;
            const Doubles variance = sums.square[n] - sums.mean[n] * sums.mean[n];
            spread += load<Doubles>(band_weight + f) * square_root(larger(variance, Doubles{}));
            store_within(sums.power[n], f, first, last, average);
        }
    }
    return decibel * total(spread);
}

constexpr int delay_count = 16;

void delayed(int frequencies, int seats, const float* pressure, const float* omega,
             const float* delay, float* field) {
    for (int f = 0; f < frequencies; ++f)
        for (int lane = 0; lane < delay_count; lane += floats) {
            const auto turn = sine_cosine(load<Floats>(delay + lane) * -omega[f]);
            const Complexes<Floats> turned{turn.cosine, turn.sine};
            for (int s = 0; s < seats; ++s) {
                const int at = 2 * (f * seats + s);
                const auto there =
                    Complexes<Floats>{all(pressure[at]), all(pressure[at + 1])} * turned;
                store(field + at * delay_count + lane, there.re);
                store(field + (at + 1) * delay_count + lane, there.im);
            }
        }
}

/// |H|^2 of filters one after another, with one division for all.
BOXROOM_INLINE Doubles response(const FilterPower* filters, int filter_count, Doubles x) {
    Doubles over = all(1.0), under = all(1.0);
    for (int n = 0; n < filter_count; ++n) {
        const FilterPower& p = filters[n];
        over *= p.n0 + x * (p.n1 + x * p.n2);
        under *= p.d0 + x * (p.d1 + x * p.d2);
    }
    return over / under;
}

BOXROOM_INLINE Doubles response_at(const FilterPower* filters, int filter_count, Doubles frequency,
                                   double rate) {
    const Doubles sine = sine_cosine(frequency * (3.14159265358979324 / rate)).sine;
    return response(filters, filter_count, sine * sine);
}

void filter_power(const FilterPower* filters, int filter_count, double rate,
                  const double* frequency, int count, double* power) {
    int f = 0;
    for (; f + doubles <= count; f += doubles)
        store(power + f, response_at(filters, filter_count, load<Doubles>(frequency + f), rate));
    if (f == count) return;
    Doubles rest{};
    for (int i = 0; f + i < count; ++i) rest[i] = frequency[f + i];
    rest = response_at(filters, filter_count, rest, rate);
    for (int i = 0; f + i < count; ++i) power[f + i] = rest[i];
}

void filtered(const FilterPower* filters, int filter_count, const FilteredCurve& curve,
              double* power, FilteredSums& sums) {
    constexpr double decibel = 3.01029995663981195;  // 10 log10(2)
    Doubles mean{}, square{}, lift{}, excess{};
    for (int f = 0; f < curve.count; f += doubles) {
        const Doubles factor = response(filters, filter_count, load<Doubles>(curve.x + f)),
                      gain = decibel * logarithm(factor);
        store(power + f, factor);
        const Doubles w = load<Doubles>(curve.weight + f),
                      d = load<Doubles>(curve.deviation + f) + gain,
                      much = larger(gain - load<Doubles>(curve.allowed + f), Doubles{});
        mean += w * d;
        square += w * d * d;
        lift += w * gain;
        excess += much * much;
    }
    sums = {total(mean), total(square), total(lift), total(excess)};
}

}  // namespace

extern const SettingsVectors settings_vectors;
const SettingsVectors settings_vectors{power, judge, delayed, filter_power, filtered};

}  // namespace boxroom::BOXROOM_VECTORS
