// Compiled once for each set of vector instructions: see base/lanes.hpp for what it may read.
#include "placement/array_vectors.hpp"

#include "base/lanes.hpp"

namespace boxroom::BOXROOM_VECTORS {
namespace {

BOXROOM_INLINE Doubles levels_of(Doubles power) {
    constexpr double decibel = 3.01029995663981195, reference = 93.97940008672037609;
    return logarithm(larger(power, all(4e-40))) * decibel + reference;
}

void levels(const double* power, int count, double* out) {
    int n = 0;
    for (; n + doubles <= count; n += doubles) store(out + n, levels_of(load<Doubles>(power + n)));
    if (n == count) return;
    Doubles rest = all(1.0);
    for (int i = 0; n + i < count; ++i) rest[i] = power[n + i];
    rest = levels_of(rest);
    for (int i = 0; n + i < count; ++i) out[n + i] = rest[i];
}

double total(Doubles x) {
    double sum = 0;
    for (int i = 0; i < doubles; ++i) sum += x[i];
    return sum;
}

/// As many numbers as are left, and zeros.
BOXROOM_INLINE Doubles rest_of(const double* from, int left) {
    Doubles x{};
    for (int i = 0; i < left; ++i) x[i] = from[i];
    return x;
}

LevelMoments moments(const double* power, const double* target, const double* weight, int count) {
    Doubles mean{}, square{};
    const auto add = [&](Doubles p, Doubles t, Doubles w) {
        const Doubles d = levels_of(p) - t, weighted = w * d;
        mean += weighted;
        square += weighted * d;
    };
    int n = 0;
    for (; n + doubles <= count; n += doubles)
        add(load<Doubles>(power + n), load<Doubles>(target + n), load<Doubles>(weight + n));
    if (n < count)
        add(rest_of(power + n, count - n), rest_of(target + n, count - n),
            rest_of(weight + n, count - n));
    return {total(mean), total(square)};
}

void products(const SpotNodes& field, const float* seat_weight, float* out) {
    const int node_step = field.seats * field.stride;
    for (int a = 0; a < field.nodes; ++a)
        for (int b = a; b < field.nodes; ++b, out += field.stride)
            for (int f = 0; f < field.stride; f += floats) {
                Floats sum{};
                for (int s = 0; s < field.seats; ++s) {
                    const int first = a * node_step + s * field.stride + f,
                              second = b * node_step + s * field.stride + f;
                    sum += seat_weight[s] *
                           (load<Floats>(field.re + first) * load<Floats>(field.re + second) +
                            load<Floats>(field.im + first) * load<Floats>(field.im + second));
                }
                store(out + f, a == b ? sum : 2.0f * sum);
            }
}

void weighted_sum(int rows, const float* weight, const float* row, int stride, const double* scale,
                  int count, double* out) {
    for (int f = 0; f < count; f += floats) {
        Floats sum{};
        for (int i = 0; i < rows; ++i) sum += weight[i] * load<Floats>(row + i * stride + f);
        float parts[floats];
        store(parts, sum);
        if (f + floats > count) {
            for (int i = 0; f + i < count; ++i) out[f + i] = parts[i] * scale[f + i];
            break;
        }
        for (int half = 0; half < floats; half += doubles) {
            const Doubles wide = __builtin_convertvector(load<HalfFloats>(parts + half), Doubles);
            store(out + f + half, wide * load<Doubles>(scale + f + half));
        }
    }
}

}  // namespace

extern const ArrayVectors array_vectors;
const ArrayVectors array_vectors{levels, moments, products, weighted_sum};

}  // namespace boxroom::BOXROOM_VECTORS
