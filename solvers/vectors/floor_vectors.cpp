// Compiled once for each set of vector instructions: see base/lanes.hpp for what it may read.
#include "solvers/floor_vectors.hpp"

#include "base/lanes.hpp"

namespace boxroom::BOXROOM_VECTORS {
namespace {

using ComplexDoubles = Complexes<Doubles>;
using ComplexFloats = Complexes<Floats>;

BOXROOM_INLINE ComplexDoubles constant(double re, double im) {
    return {all(re), all(im)};
}
BOXROOM_INLINE ComplexDoubles load_complex(const double* re, const double* im) {
    return {load<Doubles>(re), load<Doubles>(im)};
}

/// sin(qL)/q, cos(qL) and the slope of the first with q^2, all entire in q^2.
struct Waves {
    ComplexDoubles sine, cosine, slope;
};

BOXROOM_INLINE Waves waves(ComplexDoubles q2, double length) {
    const ComplexDoubles q = square_root(q2), z = all(length) * q;
    const auto turn = sine_cosine(z.re);
    const Doubles e = exponential(z.im), f = 1 / e, cosh = (e + f) / 2, sinh = (e - f) / 2;
    Waves w;
    w.cosine = {turn.cosine * cosh, -turn.sine * sinh};
    w.sine = ComplexDoubles{turn.sine * cosh, turn.cosine * sinh} / q;
    w.slope = (all(length) * w.cosine - w.sine) / (all(2.0) * q2);
    // Near zero, where these are 0/0: their series.
    const ComplexDoubles t = all(length * length) * q2;
    const auto small = size_squared(t) < 1e-8;
    const ComplexDoubles one = constant(1, 0);
    w.sine = choose(small, all(length) * (one - all(1.0 / 6) * t + all(1.0 / 120) * t * t), w.sine);
    w.cosine = choose(small, one - all(0.5) * t + all(1.0 / 24) * t * t, w.cosine);
    const double cube = length * length * length;
    w.slope = choose(
        small, all(cube) * (constant(-1.0 / 6, 0) + all(1.0 / 60) * t - all(1.0 / 1680) * t * t),
        w.slope);
    return w;
}

/// Newton's step for F(q^2) = (q^2 - e0 e1) sin(qL)/q - (e0 + e1) cos(qL), e = j k beta.
BOXROOM_INLINE ComplexDoubles newton_step(ComplexDoubles q2, double length, ComplexDoubles sum,
                                          ComplexDoubles product) {
    const Waves w = waves(q2, length);
    const ComplexDoubles shifted = q2 - product;
    const ComplexDoubles f = shifted * w.sine - sum * w.cosine;
    const ComplexDoubles slope = w.sine + shifted * w.slope + all(length / 2) * sum * w.sine;
    return f / slope;
}

/// Newton's method on all lanes; false if one does not settle. Where a step is below 1e-7, the next
/// one would be of the order of its square.
BOXROOM_INLINE bool settle(const AxisNumbers& axis, ComplexDoubles& root) {
    const ComplexDoubles end0 = constant(axis.end0_re, axis.end0_im),
                         end1 = constant(axis.end1_re, axis.end1_im);
    const ComplexDoubles sum = end0 + end1, product = end0 * end1;
    const double unit = 3.14159265358979324 / axis.length;
    for (int round = 0; round < 20; ++round) {
        const ComplexDoubles step = newton_step(root, axis.length, sum, product);
        root = root - step;
        const Doubles allowed = 1e-14 * (unit * unit * unit * unit + size_squared(root));
        bool settled = true;
        for (int i = 0; i < doubles; ++i)
            settled = settled && size_squared(step)[i] <= allowed[i];  // false for a NaN
        if (settled) return true;
    }
    return false;
}

bool eigenvalues(const AxisNumbers& axis, int count, ModeNumbers out) {
    const ComplexDoubles sum = constant(axis.end0_re + axis.end1_re, axis.end0_im + axis.end1_im);
    const double unit = 3.14159265358979324 / axis.length;
    for (int first = 0; first < count; first += doubles) {
        Doubles n;
        for (int i = 0; i < doubles; ++i) n[i] = first + i;
        const Doubles twice = n == 0.0 ? all(1.0) : all(2.0);  // (n pi/L)^2 + eps_n (e0 + e1)/L
        ComplexDoubles root = (twice / axis.length) * sum;
        root.re += n * n * (unit * unit);
        if (!settle(axis, root)) return false;
        store(out.re + first, root.re);
        store(out.im + first, root.im);
    }
    return true;
}

void polish(const AxisNumbers& axis, int count, ModeNumbers q2) {
    const ComplexDoubles end0 = constant(axis.end0_re, axis.end0_im),
                         end1 = constant(axis.end1_re, axis.end1_im);
    const ComplexDoubles sum = end0 + end1, product = end0 * end1;
    for (int n = 0; n < count; n += doubles) {
        ComplexDoubles root = load_complex(q2.re + n, q2.im + n);
        root = root - newton_step(root, axis.length, sum, product);
        store(q2.re + n, root.re);
        store(q2.im + n, root.im);
    }
}

/// Lambda = (L + S C)/2 + e S^2 + e^2 (L - S C)/(2 q^2), S = sin(qL)/q, C = cos(qL), e = j k
/// beta_0.
BOXROOM_INLINE ComplexDoubles norm(const AxisNumbers& axis, ComplexDoubles q2) {
    const double length = axis.length;
    const ComplexDoubles end = constant(axis.end0_re, axis.end0_im);
    const Waves w = waves(q2, length);
    const ComplexDoubles both = w.sine * w.cosine, t = all(length * length) * q2;
    const ComplexDoubles difference =
        choose(size_squared(t) < 1e-8,
               all(length * length * length) * (constant(1.0 / 3, 0) - all(1.0 / 15) * t),
               (constant(length, 0) - both) / (all(2.0) * q2));
    return all(0.5) * (constant(length, 0) + both) + end * w.sine * w.sine + end * end * difference;
}

void weighted(const AxisNumbers& axis, int count, ModeNumbers q2, const double* x, int points,
              ModeNumbers out, int stride) {
    const ComplexDoubles end = constant(axis.end0_re, axis.end0_im);
    for (int n = 0; n < count; n += doubles) {
        const ComplexDoubles at = load_complex(q2.re + n, q2.im + n);
        const ComplexDoubles weight = constant(1, 0) / norm(axis, at);
        for (int i = 0; i < points; ++i) {
            const Waves w = waves(at, x[i]);
            const ComplexDoubles value = weight * (w.cosine + end * w.sine);
            store(out.re + i * stride + n, value.re);
            store(out.im + i * stride + n, value.im);
        }
    }
}

/// Doubles as sums of two floats.
struct TwoFloats {
    Floats high, low;
};
BOXROOM_INLINE TwoFloats two_floats(const double* x) {
    const Doubles a = load<Doubles>(x), b = load<Doubles>(x + doubles);
    const auto rest = [](Doubles of) {
        return of - __builtin_convertvector(__builtin_convertvector(of, HalfFloats), Doubles);
    };
    return {rounded(a, b), rounded(rest(a), rest(b))};
}

/// What psi = cos(qx) + a sin(qx) needs of one mode: a = e/q, and q in quarter turns, as two
/// floats, and in e-folds.
struct ModeOfAxis {
    float a_re, a_im, turns_high, turns_low, folds;
};
BOXROOM_INLINE ModeOfAxis mode_of_axis(const AxisNumbers& axis, double q_re, double q_im) {
    const double size = q_re * q_re + q_im * q_im, turns = q_re * 0.63661977236758134;
    const float high = static_cast<float>(turns);
    return {static_cast<float>((axis.end0_re * q_re + axis.end0_im * q_im) / size),
            static_cast<float>((axis.end0_im * q_re - axis.end0_re * q_im) / size), high,
            static_cast<float>(turns - high), static_cast<float>(q_im)};
}

BOXROOM_INLINE ComplexFloats mode_function(const ModeOfAxis& mode, const TwoFloats& at) {
    // Quarter turns, with what the rounding of the product leaves.
    const Floats shifted = at.high * mode.turns_high + float_rounder,
                 whole = shifted - float_rounder;
    const Floats rest =
        (at.high * mode.turns_high - whole) + (at.high * mode.turns_low + at.low * mode.turns_high);
    const auto turn = from_quarters(shifted, rest);
    const Floats e = exponential(at.high * mode.folds), f = 1 / e, cosh = (e + f) * 0.5f,
                 sinh = (e - f) * 0.5f;
    const Floats sine_re = turn.sine * cosh, sine_im = turn.cosine * sinh;
    return {turn.cosine * cosh + mode.a_re * sine_re - mode.a_im * sine_im,
            mode.a_re * sine_im + mode.a_im * sine_re - turn.sine * sinh};
}

void mode_functions(const AxisNumbers& axis, int count, ModeNumbers q2, const double* x, int points,
                    float* re, float* im, int stride) {
    constexpr int some = 32;  // modes at a time; q2 has room for a multiple of 16
    for (int first = 0; first < count; first += some) {
        const int modes = count - first < some ? count - first : some;
        ModeOfAxis mode[some];
        for (int n = 0; n < modes; n += doubles) {  // zero has the next best value
            const ComplexDoubles tiny = constant(0, 1e-30);
            const ComplexDoubles q =
                square_root(load_complex(q2.re + first + n, q2.im + first + n) + tiny);
            for (int i = 0; i < doubles; ++i) mode[n + i] = mode_of_axis(axis, q.re[i], q.im[i]);
        }
        for (int i = 0; i < points; i += floats) {  // the last may reach over: `re` has room
            const TwoFloats at = two_floats(x + i);
            for (int n = 0; n < modes; ++n) {
                const ComplexFloats psi = mode_function(mode[n], at);
                store(re + (first + n) * stride + i, psi.re);
                store(im + (first + n) * stride + i, psi.im);
            }
        }
    }
}

/// What every pair of heights shares: e^{-j kappa z} is exponential(minus_j_kappa z).
template <typename Vector>
struct Closed {
    Complexes<Vector> minus_j_kappa, r0, r1, scale;
};

/// What is below it counts for nothing beside one.
constexpr double least_exponent = -17;

/// In double precision: near a resonance of lightly damped walls the denominator of `scale` is
/// small.
BOXROOM_INLINE Closed<Doubles> closed_axis(const RowOfTerms& row, int n) {
    const AxisNumbers& axis = *row.axis;
    ComplexDoubles kappa = square_root(constant(row.kappa2_re, row.kappa2_im) -
                                       load_complex(row.q2.re + n, row.q2.im + n));
    kappa = choose(kappa.im > 0, ComplexDoubles{-kappa.re, -kappa.im}, kappa);
    const ComplexDoubles k_b0 = constant(axis.end0_im, -axis.end0_re),
                         k_b1 = constant(axis.end1_im, -axis.end1_re);
    Closed<Doubles> c;
    c.r0 = (kappa - k_b0) / (kappa + k_b0);
    c.r1 = (kappa - k_b1) / (kappa + k_b1);
    c.minus_j_kappa = {kappa.im, -kappa.re};
    const ComplexDoubles there_and_back = all(2 * axis.length) * c.minus_j_kappa;
    ComplexDoubles denominator = constant(1, 0);
    if (any(there_and_back.re > least_exponent))
        denominator = denominator - c.r0 * c.r1 * exponential(there_and_back);
    const double half = -0.5;
    c.scale =
        constant(half * row.factor_re, half * row.factor_im) / (c.minus_j_kappa * denominator);
    return c;
}

BOXROOM_INLINE ComplexFloats narrow(ComplexDoubles first, ComplexDoubles second) {
    return {rounded(first.re, second.re), rounded(first.im, second.im)};
}
BOXROOM_INLINE Closed<Floats> narrow(const Closed<Doubles>& a, const Closed<Doubles>& b) {
    return {narrow(a.minus_j_kappa, b.minus_j_kappa), narrow(a.r0, b.r0), narrow(a.r1, b.r1),
            narrow(a.scale, b.scale)};
}

constexpr int height_floats = 64;  ///< of scratch, for each height

/// 1 + R e^{-2j kappa x} for the wave that an end at the distance x sends back, to scratch.
BOXROOM_INLINE void echo(ComplexFloats minus_j_kappa, ComplexFloats r, double distance, float* to) {
    ComplexFloats sum{all(1.0f), all(0.0f)};
    const ComplexFloats way = all(static_cast<float>(2 * distance)) * minus_j_kappa;
    if (any(way.re > static_cast<float>(least_exponent))) sum = sum + r * exponential(way);
    store(to, sum.re);
    store(to + 16, sum.im);
}
BOXROOM_INLINE ComplexFloats kept(const float* from) {
    return {load<Floats>(from), load<Floats>(from + 16)};
}

/// The echoes from both ends for each height, as far as it is ever the lower or the higher of a
/// pair.
BOXROOM_INLINE void echoes(const RowOfTerms& row, const Closed<Floats>& c, const double* height,
                           int count, const double* other, int others, float* scratch) {
    double lowest = other[0], highest = other[0];
    for (int i = 1; i < others; ++i) {
        lowest = other[i] < lowest ? other[i] : lowest;
        highest = other[i] > highest ? other[i] : highest;
    }
    for (int i = 0; i < count; ++i) {
        float* const to = scratch + height_floats * i;
        if (height[i] <= highest) echo(c.minus_j_kappa, c.r0, height[i], to);
        if (height[i] >= lowest) echo(c.minus_j_kappa, c.r1, row.axis->length - height[i], to + 32);
    }
}

/// left_m right_n G of every receiver at one height.
BOXROOM_INLINE void give(const RowOfTerms& row, int source_height, int receiver_height, int n,
                         ComplexFloats green) {
    for (int r = 0; r < row.receivers; ++r) {
        if (row.height_of[r] != receiver_height) continue;
        const float left_re = static_cast<float>(row.left.re[r * row.left_step]),
                    left_im = static_cast<float>(row.left.im[r * row.left_step]);
        const double *re = row.right.re + r * row.right_step + n,
                     *im = row.right.im + r * row.right_step + n;
        const ComplexFloats right =
            narrow(load_complex(re, im), load_complex(re + doubles, im + doubles));
        const ComplexFloats value = ComplexFloats{all(left_re), all(left_im)} * right * green;
        const int to = source_height * row.height_step + r * row.receiver_step + n;
        store(row.out_re + to, value.re);
        store(row.out_im + to, value.im);
    }
}

void row_of_terms(const RowOfTerms& row) {
    float* const source = row.scratch;
    float* const receiver = row.scratch + height_floats * row.source_heights;
    for (int n = 0; n < row.count; n += floats) {
        const Closed<Floats> c = narrow(closed_axis(row, n), closed_axis(row, n + doubles));
        echoes(row, c, row.source_height, row.source_heights, row.receiver_height,
               row.receiver_heights, source);
        echoes(row, c, row.receiver_height, row.receiver_heights, row.source_height,
               row.source_heights, receiver);
        for (int h = 0; h < row.source_heights; ++h)
            for (int g = 0; g < row.receiver_heights; ++g) {
                const double rise = row.receiver_height[g] - row.source_height[h];
                const float way = static_cast<float>(rise < 0 ? -rise : rise);
                const ComplexFloats direct = c.scale * exponential(all(way) * c.minus_j_kappa);
                const float *here = source + height_floats * h,
                            *there = receiver + height_floats * g;
                give(row, h, g, n,
                     rise >= 0 ? direct * kept(here) * kept(there + 32)
                               : direct * kept(there) * kept(here + 32));
            }
    }
}

}  // namespace

extern const FloorVectors floor_vectors;
const FloorVectors floor_vectors{eigenvalues, polish, weighted, mode_functions, row_of_terms};

}  // namespace boxroom::BOXROOM_VECTORS
