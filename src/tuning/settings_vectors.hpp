#pragma once
#include "base/processor.hpp"

namespace boxroom {

// What the search for settings spends its time on, as plain numbers: the files in vectors/ read
// nothing else (base/lanes.hpp says why).

inline constexpr int most_turned = 4;

/// Pressures of each sub at each seat, in double precision: [sub][seat][f], `stride` from seat to
/// seat, a multiple of 8; no more than most_turned subs.
struct SubPressures {
    int subs, seats, stride;
    const double *re, *im;
    const double* omega;  ///< (stride) [rad/s]
};

/// |H|^2 of a filter of second order: (n0 + n1 x + n2 x^2)/(d0 + d1 x + d2 x^2), x = sin^2(pi
/// f/rate).
struct FilterPower {
    double n0, n1, n2, d0, d1, d2;
};

/// A curve that filters are to flatten, at `count` frequencies, a multiple of 8.
struct FilteredCurve {
    int count;
    const double* x;          ///< sin^2(pi f/rate)
    const double* weight;     ///< sum to 1 in the band, 0 beside it
    const double* deviation;  ///< without filters [dB]
    const double* allowed;    ///< how much the filters together may add [dB]
};

/// Over the frequencies, g the filters' gain in dB: w (d + g), w (d + g)^2, w g, and (g -
/// allowed)^2 where that is too much.
struct FilteredSums {
    double mean, square, lift, excess;
};

struct SettingsVectors {
    /// |sum_k gain_k e^{-jw delay_k} p_k|^2 at the frequencies first .. last, power[f * seats + s];
    /// a negative gain turns the polarity round.
    void (*power)(const SubPressures& pressure, const double* gain, const double* delay, int first,
                  int last, double* power);
    /// Of the same powers at the frequencies first .. last: their mean over the seats with
    /// `seat_weight`, to average[f]; and the sum over f of `band_weight` (stride) times the
    /// weighted standard deviation of the seats' levels [dB].
    double (*judge)(const SubPressures& pressure, const double* gain, const double* delay,
                    int first, int last, const double* seat_weight, const double* band_weight,
                    double* average);
    /// e^{-jw delay} p at 16 delays of the pressure of one sub, [f][seat][re, im]:
    /// field[f][seat][re, im][delay], as SetVectors takes it. w delay < 1000.
    void (*delayed)(int frequencies, int seats, const float* pressure, const float* omega,
                    const float* delay, float* field);
    /// The product of |H|^2 of some filters at `count` frequencies.
    void (*filter_power)(const FilterPower* filters, int filter_count, double rate,
                         const double* frequency, int count, double* power);
    /// The sums, and the product of |H|^2 (count) to `power`.
    void (*filtered)(const FilterPower* filters, int filter_count, const FilteredCurve& curve,
                     double* power, FilteredSums& sums);
};

/// The one for these instructions, which the processor must have.
const SettingsVectors& settings_vectors(VectorSet set = vector_set());

}  // namespace boxroom
