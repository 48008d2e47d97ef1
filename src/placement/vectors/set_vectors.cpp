// Compiled once for each set of vector instructions: see base/lanes.hpp for what it may read.
#include "placement/set_vectors.hpp"

#include "base/lanes.hpp"

namespace boxroom::BOXROOM_VECTORS {
namespace {

constexpr float decibel = 3.01029996f;  // 10 log10(2): dB of a power for each unit of log2

/// What a smoothed point is of `power` and of its running sum over cells, `prefix`, both [f][lane].
BOXROOM_INLINE Floats smoothed(const SmoothingWindow& w, const float* power, const float* prefix) {
    const auto at = [power](int f) { return load<Floats>(power + f * floats); };
    Floats sum = at(w.low) * w.low_weight + at(w.low_next) * w.low_next_weight +
                 at(w.high) * w.high_weight + at(w.high_next) * w.high_next_weight;
    if (w.high > w.low + 2)
        sum +=
            (load<Floats>(prefix + w.high * floats) - load<Floats>(prefix + (w.low + 2) * floats)) *
            w.inverse_width;
    return sum;
}

BOXROOM_INLINE Floats root(Floats x) {
    return square_root(larger(x, Floats{}));
}

/// As many sets as a vector holds, out of the 16 of a block.
class Lanes {
  public:
    Lanes(const SetNumbers& numbers, const float* base, const float* field, float* scratch)
        : n_(numbers),
          base_(base),
          field_(field),
          power_(scratch),
          prefix_(scratch + (numbers.frequencies + 1) * floats),
          variance_(scratch + 2 * (numbers.frequencies + 1) * floats) {}

    void judge(SetVerdicts& out, int lane) {
        // 1. The seats: their mean power everywhere, their differences in the band.
        const int band_end = n_.band_first + n_.band_count;
        for (int f = 0; f < n_.band_first; ++f) outside(f);
        for (int f = n_.band_first; f < band_end; ++f) inside(f);
        for (int f = band_end; f < n_.frequencies; ++f) outside(f);
        store(prefix_ + n_.frequencies * floats, sum_);
        // Roots take long: by themselves, so that nothing waits for them.
        Floats spread{};
        for (int n = 0; n < n_.band_count; ++n)
            spread += n_.band_weight[n] * root(load<Floats>(variance_ + n * floats));

        // 2. The average: level, and its deviation from the target under both smoothings.
        Floats level{}, fine_mean{}, fine_square{}, broad_mean{}, broad_square{};
        for (int n = 0; n < n_.band_count; ++n) {
            const float w = n_.band_weight[n];
            const Floats fine = logarithm(smoothed(n_.twelfth[n])) - n_.target[n],
                         broad = logarithm(smoothed(n_.whole[n])) - n_.target[n];
            fine_mean += w * fine;
            fine_square += w * fine * fine;
            broad_mean += w * broad;
            broad_square += w * broad * broad;
            level += w * logarithm(power_at(n_.band_first + n));
        }
        store(out.spread + lane, decibel * spread);
        store(out.unevenness + lane, decibel * root(fine_square - fine_mean * fine_mean));
        store(out.balance + lane, decibel * root(broad_square - broad_mean * broad_mean));
        store(out.level + lane, decibel * level + n_.level_offset);
    }

  private:
    BOXROOM_INLINE Floats power(const float*& base, const float*& field) const {
        const Floats re = load<Floats>(field) + base[0],
                     im = load<Floats>(field + lane_count) + base[1];
        base += 2, field += 2 * lane_count;
        return re * re + im * im;
    }

    BOXROOM_INLINE void keep(int f, Floats average) {
        average *= n_.gain[f];
        store(power_ + f * floats, average);
        store(prefix_ + f * floats, sum_);
        sum_ += average * n_.cell[f];
    }

    BOXROOM_INLINE void outside(int f) {
        const float* base = base_ + f * n_.seats * 2;
        const float* field = field_ + f * n_.seats * 2 * lane_count;
        Floats average{};
        for (int s = 0; s < n_.seats; ++s) average += n_.seat_weight[s] * power(base, field);
        keep(f, average);
    }

    /// Differences from the first seat, so that no large numbers cancel in the variance.
    BOXROOM_INLINE void inside(int f) {
        const float* base = base_ + f * n_.seats * 2;
        const float* field = field_ + f * n_.seats * 2 * lane_count;
        const Floats first_power = power(base, field), first = logarithm(first_power);
        Floats average = n_.seat_weight[0] * first_power, mean{}, square{};
        for (int s = 1; s < n_.seats; ++s) {
            const Floats p = power(base, field), d = logarithm(p) - first,
                         weighted = n_.seat_weight[s] * d;
            average += n_.seat_weight[s] * p;
            mean += weighted;
            square += weighted * d;
        }
        store(variance_ + (f - n_.band_first) * floats, square - mean * mean);
        keep(f, average);
    }

    BOXROOM_INLINE Floats smoothed(const SmoothingWindow& w) const {
        return BOXROOM_VECTORS::smoothed(w, power_, prefix_);
    }

    BOXROOM_INLINE Floats power_at(int f) const { return load<Floats>(power_ + f * floats); }

    const SetNumbers& n_;
    const float *base_, *field_;
    float *power_, *prefix_, *variance_;
    Floats sum_{};
};

void judge(const SetNumbers& numbers, const float* base, const float* field, float* scratch,
           SetVerdicts& out) {
    for (int lane = 0; lane < lane_count; lane += floats)
        Lanes(numbers, base, field + lane, scratch).judge(out, lane);
}

/// As many boxes as a vector holds, from `lane` on.
BOXROOM_INLINE Floats balances_from(const BoxNumbers& n, int lane, float* scratch) {
    float* const power = scratch;
    float* const prefix = scratch + (n.frequencies + 1) * floats;
    Floats sum{};
    for (int f = 0; f < n.frequencies; ++f) {
        Floats at{};
        for (int row = 0; row < n.rows; ++row)
            at += n.product[row * n.stride + f] * load<Floats>(n.weight + row * lane_count + lane);
        at *= load<Floats>(n.scale + f * lane_count + lane);
        store(power + f * floats, at);
        store(prefix + f * floats, sum);
        sum += at * n.cell[f];
    }
    store(prefix + n.frequencies * floats, sum);
    Floats mean{}, square{};
    for (int f = 0; f < n.band_count; ++f) {
        const Floats d = logarithm(smoothed(n.whole[f], power, prefix)) - n.target[f],
                     weighted = n.band_weight[f] * d;
        mean += weighted;
        square += weighted * d;
    }
    return decibel * root(square - mean * mean);
}

void balances(const BoxNumbers& numbers, float* scratch, float* balance) {
    for (int lane = 0; lane < lane_count; lane += floats)
        store(balance + lane, balances_from(numbers, lane, scratch));
}

void log2_of_each(const float* x, float* out) {
    for (int lane = 0; lane < lane_count; lane += floats)
        store(out + lane, logarithm(load<Floats>(x + lane)));
}

}  // namespace

extern const SetVectors set_vectors;
const SetVectors set_vectors{judge, balances, log2_of_each};

}  // namespace boxroom::BOXROOM_VECTORS
