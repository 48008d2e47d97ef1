// Compiled once for each set of vector instructions: see base/lanes.hpp for what it may read.
#include "tuning/settings_vectors.hpp"

#include "base/lanes.hpp"

namespace boxroom::BOXROOM_VECTORS {
namespace {

void power(const SubPressures& p, const double* gain, const double* delay, int first, int last,
           double* turn, double* power) {
    const int begin = first / doubles * doubles;
    for (int k = 0; k < p.subs; ++k)
        for (int f = begin; f <= last; f += doubles) {
            double* const to = turn + 2 * (k * p.stride + f);
            const auto turned = sine_cosine(load<Doubles>(p.omega + f) * -delay[k]);
            store(to, gain[k] * turned.cosine);
            store(to + doubles, gain[k] * turned.sine);
        }
    for (int s = 0; s < p.seats; ++s)
        for (int f = begin; f <= last; f += doubles) {
            Complexes<Doubles> sum{};
            for (int k = 0; k < p.subs; ++k) {
                const int at = (k * p.seats + s) * p.stride + f;
                const double* from = turn + 2 * (k * p.stride + f);
                sum = sum +
                      Complexes<Doubles>{load<Doubles>(p.re + at), load<Doubles>(p.im + at)} *
                          Complexes<Doubles>{load<Doubles>(from), load<Doubles>(from + doubles)};
            }
            const Doubles squared = size_squared(sum);
            for (int i = 0; i < doubles; ++i)
                if (f + i >= first && f + i <= last) power[(f + i) * p.seats + s] = squared[i];
        }
}

double total(Doubles x) {
    double sum = 0;
    for (int i = 0; i < doubles; ++i) sum += x[i];
    return sum;
}

double judge(const SubPressures& p, const double* gain, const double* delay, int first, int last,
             const double* seat_weight, const double* band_weight, double* average) {
    constexpr double decibel = 3.01029995663981195;  // 10 log10(2)
    Doubles spread{};
    for (int f = first / doubles * doubles; f <= last; f += doubles) {
        Complexes<Doubles> turn[most_turned];
        for (int k = 0; k < p.subs; ++k) {
            const auto turned = sine_cosine(load<Doubles>(p.omega + f) * -delay[k]);
            turn[k] = {gain[k] * turned.cosine, gain[k] * turned.sine};
        }
        // Differences from the first seat, so that no large numbers cancel in the variance.
        Doubles mean_power{}, reference{}, mean{}, square{};
        for (int s = 0; s < p.seats; ++s) {
            Complexes<Doubles> sum{};
            for (int k = 0; k < p.subs; ++k) {
                const int at = (k * p.seats + s) * p.stride + f;
                sum = sum + Complexes<Doubles>{load<Doubles>(p.re + at), load<Doubles>(p.im + at)} *
                                turn[k];
            }
            const Doubles power = size_squared(sum), level = logarithm(larger(power, all(4e-40)));
            if (s == 0) reference = level;
            const Doubles d = level - reference;
            mean_power += seat_weight[s] * power;
            mean += seat_weight[s] * d;
            square += seat_weight[s] * d * d;
        }
        spread +=
            load<Doubles>(band_weight + f) * square_root(larger(square - mean * mean, Doubles{}));
        for (int i = 0; i < doubles; ++i)
            if (f + i >= first && f + i <= last) average[f + i] = mean_power[i];
    }
    return decibel * total(spread);
}

BOXROOM_INLINE Doubles filtered(const FilterPower* filters, int filter_count, Doubles frequency,
                                double rate) {
    const Doubles sine = sine_cosine(frequency * (3.14159265358979324 / rate)).sine,
                  x = sine * sine;
    Doubles power = all(1.0);
    for (int n = 0; n < filter_count; ++n) {
        const FilterPower& p = filters[n];
        power *= (p.n0 + x * (p.n1 + x * p.n2)) / (p.d0 + x * (p.d1 + x * p.d2));
    }
    return power;
}

void filter_power(const FilterPower* filters, int filter_count, double rate,
                  const double* frequency, int count, double* power) {
    int f = 0;
    for (; f + doubles <= count; f += doubles)
        store(power + f, filtered(filters, filter_count, load<Doubles>(frequency + f), rate));
    if (f == count) return;
    Doubles rest{};
    for (int i = 0; f + i < count; ++i) rest[i] = frequency[f + i];
    rest = filtered(filters, filter_count, rest, rate);
    for (int i = 0; f + i < count; ++i) power[f + i] = rest[i];
}

void filtered(const FilterPower* filters, int filter_count, const FilteredCurve& curve,
              double* power, FilteredSums& sums) {
    constexpr double decibel = 3.01029995663981195;  // 10 log10(2)
    Doubles mean{}, square{}, lift{}, excess{};
    for (int f = 0; f < curve.count; f += doubles) {
        const Doubles x = load<Doubles>(curve.x + f);
        Doubles over = all(1.0), under = all(1.0);
        for (int n = 0; n < filter_count; ++n) {
            const FilterPower& p = filters[n];
            over *= p.n0 + x * (p.n1 + x * p.n2);
            under *= p.d0 + x * (p.d1 + x * p.d2);
        }
        const Doubles factor = over / under, gain = decibel * logarithm(factor);
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
const SettingsVectors settings_vectors{power, judge, filter_power, filtered};

}  // namespace boxroom::BOXROOM_VECTORS
