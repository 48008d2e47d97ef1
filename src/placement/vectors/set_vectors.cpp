// Compiled once for each set of vector instructions: see base/lanes.hpp for what it may read.
#include "placement/set_vectors.hpp"

#include "base/lanes.hpp"

namespace boxroom::BOXROOM_VECTORS {
namespace {

constexpr float decibel = 3.01029996f;  // 10 log10(2): dB of a power for each unit of log2

/// As many sets, or boxes, as are judged side by side: what is the same for all of them is read
/// once for several vectors.
constexpr int vectors = floats > 8 ? 1 : 2;
constexpr int sets = vectors * floats;
struct Sets {
    Floats of[vectors];
};
template <typename Function>
BOXROOM_INLINE Sets each(const Function& function) {
    Sets out;
    for (int v = 0; v < vectors; ++v) out.of[v] = function(v);
    return out;
}
BOXROOM_INLINE Sets operator+(Sets a, Sets b) {
    return each([&](int v) { return a.of[v] + b.of[v]; });
}
BOXROOM_INLINE Sets operator-(Sets a, Sets b) {
    return each([&](int v) { return a.of[v] - b.of[v]; });
}
BOXROOM_INLINE Sets operator*(Sets a, Sets b) {
    return each([&](int v) { return a.of[v] * b.of[v]; });
}
BOXROOM_INLINE Sets operator*(float a, Sets b) {
    return each([&](int v) { return a * b.of[v]; });
}
BOXROOM_INLINE Sets operator+(Sets a, float b) {
    return each([&](int v) { return a.of[v] + b; });
}
BOXROOM_INLINE void operator+=(Sets& a, Sets b) {
    a = a + b;
}
BOXROOM_INLINE Sets load_sets(const float* from) {
    return each([&](int v) { return load<Floats>(from + v * floats); });
}
BOXROOM_INLINE void store_sets(float* to, Sets x) {
    for (int v = 0; v < vectors; ++v) store(to + v * floats, x.of[v]);
}
BOXROOM_INLINE Sets root(Sets x) {
    return each([&](int v) { return square_root(larger(x.of[v], Floats{})); });
}

/// What a smoothed point is of `power` and of its running sum over cells, `prefix`, both [f][lane].
BOXROOM_INLINE Sets smoothed(const SmoothingWindow& w, const float* power, const float* prefix) {
    const auto at = [power](int f) { return load_sets(power + f * sets); };
    Sets sum = w.low_weight * at(w.low) + w.low_next_weight * at(w.low_next) +
               w.high_weight * at(w.high) + w.high_next_weight * at(w.high_next);
    if (w.high > w.low + 2)
        sum += w.inverse_width *
               (load_sets(prefix + w.high * sets) - load_sets(prefix + (w.low + 2) * sets));
    return sum;
}

/// log2 by the bits of a float, which is a straight line between the powers of two: from 0 to
/// 0.08607 too low, which half of that added makes an error of either sign.
struct RoughLogarithm {
    BOXROOM_INLINE static Floats of(Floats x) {
        constexpr float middle = 0.04304f;
        return __builtin_convertvector((Ints)x, Floats) * (1.0f / 8388608) - (127 - middle);
    }
};
struct FineLogarithm {
    BOXROOM_INLINE static Floats of(Floats x) { return logarithm(x); }
};
template <typename Logarithm>
BOXROOM_INLINE Sets logarithms(Sets x) {
    return each([&](int v) { return Logarithm::of(x.of[v]); });
}

/// Some of the 16 sets of a block.
template <typename Logarithm>
class Lanes {
  public:
    Lanes(const SetNumbers& numbers, const float* base, const float* field, float* scratch)
        : n_(numbers),
          base_(base),
          field_(field),
          power_(scratch),
          prefix_(scratch + (numbers.frequencies + 1) * sets),
          variance_(scratch + 2 * (numbers.frequencies + 1) * sets) {}

    void judge(SetVerdicts& out, int lane) {
        // 1. The seats: their mean power everywhere, their differences in the band.
        const int band_end = n_.band_first + n_.band_count;
        for (int f = 0; f < n_.band_first; ++f) outside(f);
        for (int f = n_.band_first; f < band_end; ++f) inside(f);
        for (int f = band_end; f < n_.frequencies; ++f) outside(f);
        store_sets(prefix_ + n_.frequencies * sets, sum_);
        // Roots take long: by themselves, so that nothing waits for them.
        Sets spread{};
        for (int n = 0; n < n_.band_count; ++n)
            spread += n_.band_weight[n] * root(load_sets(variance_ + n * sets));

        // 2. The average: level, and its deviation from the target under both smoothings. One after
        // the other: so many sums stay in registers.
        Sets level{};
        for (int n = 0; n < n_.band_count; ++n)
            level += n_.band_weight[n] * logarithms<Logarithm>(power_at(n_.band_first + n));
        store_sets(out.spread + lane, decibel * spread);
        store_sets(out.unevenness + lane, decibel * deviation(n_.twelfth));
        store_sets(out.balance + lane, decibel * deviation(n_.whole));
        store_sets(out.level + lane, decibel * level + n_.level_offset);
    }

  private:
    BOXROOM_INLINE Sets power(const float*& base, const float*& field) const {
        const Sets re = load_sets(field) + base[0], im = load_sets(field + lane_count) + base[1];
        base += 2, field += 2 * lane_count;
        return re * re + im * im;
    }

    BOXROOM_INLINE void keep(int f, Sets average) {
        average = n_.gain[f] * average;
        store_sets(power_ + f * sets, average);
        store_sets(prefix_ + f * sets, sum_);
        sum_ += n_.cell[f] * average;
    }

    BOXROOM_INLINE void outside(int f) {
        const float* base = base_ + f * n_.seats * 2;
        const float* field = field_ + f * n_.seats * 2 * lane_count;
        Sets average{};
        for (int s = 0; s < n_.seats; ++s) average += n_.seat_weight[s] * power(base, field);
        keep(f, average);
    }

    /// Differences from the first seat, so that no large numbers cancel in the variance.
    BOXROOM_INLINE void inside(int f) {
        const float* base = base_ + f * n_.seats * 2;
        const float* field = field_ + f * n_.seats * 2 * lane_count;
        const Sets first_power = power(base, field), first = logarithms<Logarithm>(first_power);
        Sets average = n_.seat_weight[0] * first_power, mean{}, square{};
        for (int s = 1; s < n_.seats; ++s) {
            const Sets p = power(base, field), d = logarithms<Logarithm>(p) - first,
                       weighted = n_.seat_weight[s] * d;
            average += n_.seat_weight[s] * p;
            mean += weighted;
            square += weighted * d;
        }
        store_sets(variance_ + (f - n_.band_first) * sets, square - mean * mean);
        keep(f, average);
    }

    BOXROOM_INLINE Sets deviation(const SmoothingWindow* windows) const {
        Sets mean{}, square{};
        for (int n = 0; n < n_.band_count; ++n) {
            const Sets d = logarithms<Logarithm>(smoothed(windows[n], power_, prefix_)) +
                           -n_.target[n],
                       weighted = n_.band_weight[n] * d;
            mean += weighted;
            square += weighted * d;
        }
        return root(square - mean * mean);
    }

    BOXROOM_INLINE Sets power_at(int f) const { return load_sets(power_ + f * sets); }

    const SetNumbers& n_;
    const float *base_, *field_;
    float *power_, *prefix_, *variance_;
    Sets sum_{};
};

template <typename Logarithm>
BOXROOM_INLINE void judge_block(const SetNumbers& numbers, const float* base, const float* field,
                                float* scratch, SetVerdicts& out) {
    for (int lane = 0; lane < lane_count; lane += sets)
        Lanes<Logarithm>(numbers, base, field + lane, scratch).judge(out, lane);
}
void judge(const SetNumbers& numbers, const float* base, const float* field, float* scratch,
           SetVerdicts& out) {
    judge_block<FineLogarithm>(numbers, base, field, scratch, out);
}
void judge_roughly(const SetNumbers& numbers, const float* base, const float* field, float* scratch,
                   SetVerdicts& out) {
    judge_block<RoughLogarithm>(numbers, base, field, scratch, out);
}

/// Some of the boxes, from `lane` on.
BOXROOM_INLINE Sets balances_from(const BoxNumbers& n, int lane, float* scratch) {
    float* const power = scratch;
    float* const prefix = scratch + (n.frequencies + 1) * sets;
    Sets sum{};
    for (int f = 0; f < n.frequencies; ++f) {
        Sets at{};
        for (int row = 0; row < n.rows; ++row)
            at += n.product[row * n.stride + f] * load_sets(n.weight + row * lane_count + lane);
        at = load_sets(n.scale + f * lane_count + lane) * at;
        store_sets(power + f * sets, at);
        store_sets(prefix + f * sets, sum);
        sum += n.cell[f] * at;
    }
    store_sets(prefix + n.frequencies * sets, sum);
    Sets mean{}, square{};
    for (int f = 0; f < n.band_count; ++f) {
        const Sets d = logarithms<FineLogarithm>(smoothed(n.whole[f], power, prefix)) +
                       -n.target[f],
                   weighted = n.band_weight[f] * d;
        mean += weighted;
        square += weighted * d;
    }
    return decibel * root(square - mean * mean);
}

void balances(const BoxNumbers& numbers, float* scratch, float* balance) {
    for (int lane = 0; lane < lane_count; lane += sets)
        store_sets(balance + lane, balances_from(numbers, lane, scratch));
}

void log2_of_each(const float* x, float* out) {
    for (int lane = 0; lane < lane_count; lane += floats)
        store(out + lane, logarithm(load<Floats>(x + lane)));
}

}  // namespace

extern const SetVectors set_vectors;
const SetVectors set_vectors{judge, judge_roughly, balances, log2_of_each};

}  // namespace boxroom::BOXROOM_VECTORS
