#pragma once
// Vectors of floats and doubles as wide as the instruction set that a file is compiled for, and the
// functions that the inner loops take of them.
//
// For files in folders called `vectors` alone: each is compiled once for every set of instructions
// (base/processor.hpp), which is the namespace that BOXROOM_VECTORS names. The linker keeps one
// copy of a function that several files define; kept from a file for AVX2 it would end the program
// on an older processor. So all that is defined here is inlined always and belongs to that
// namespace, and no header of the standard library's with functions in it, nor Eigen, may be read
// beside it. These are the compiler's own vectors (GCC and Clang), since a library's templates hold
// functions that all its files would share.
#include <cstddef>

#ifndef BOXROOM_VECTORS
#error "this is for files that are compiled once for each set of vector instructions"
#endif
#define BOXROOM_INLINE inline __attribute__((always_inline))
#ifdef __GNUC__  // vectors as arguments of what is always inlined: no matter how they are passed
#pragma GCC diagnostic ignored "-Wpsabi"
#endif

namespace boxroom::BOXROOM_VECTORS {

#if defined(__AVX512F__)
inline constexpr int vector_bytes = 64;
#elif defined(__AVX__)
inline constexpr int vector_bytes = 32;
#else
inline constexpr int vector_bytes = 16;
#endif
typedef float Floats __attribute__((vector_size(vector_bytes)));
typedef int Ints __attribute__((vector_size(vector_bytes)));
typedef double Doubles __attribute__((vector_size(vector_bytes)));
typedef long long Longs __attribute__((vector_size(vector_bytes)));
typedef unsigned long long UnsignedLongs __attribute__((vector_size(vector_bytes)));
inline constexpr int floats = vector_bytes / 4, doubles = vector_bytes / 8;
typedef float HalfFloats __attribute__((vector_size(vector_bytes / 2)));  ///< as many as Doubles

/// From and to memory, which need not be aligned.
template <typename Vector, typename Number>
BOXROOM_INLINE Vector load(const Number* from) {
    Vector v;
    __builtin_memcpy(&v, from, sizeof v);
    return v;
}
template <typename Vector, typename Number>
BOXROOM_INLINE void store(Number* to, Vector v) {
    __builtin_memcpy(to, &v, sizeof v);
}
BOXROOM_INLINE Floats all(float x) {
    return x - Floats{};
}
BOXROOM_INLINE Doubles all(double x) {
    return x - Doubles{};
}
template <typename Vector>
BOXROOM_INLINE Vector larger(Vector a, Vector b) {
    return a > b ? a : b;
}
template <typename Vector>
BOXROOM_INLINE Vector smaller(Vector a, Vector b) {
    return a < b ? a : b;
}

/// Whether a comparison holds anywhere.
template <typename Mask>
BOXROOM_INLINE bool any(Mask mask) {
    const Longs parts = (Longs)mask;
    long long found = 0;
    for (int i = 0; i < doubles; ++i) found |= parts[i];
    return found != 0;
}
/// Rounded to floats, the first ones first.
BOXROOM_INLINE Floats rounded(Doubles first, Doubles second) {
    const HalfFloats low = __builtin_convertvector(first, HalfFloats),
                     high = __builtin_convertvector(second, HalfFloats);
#if defined(__AVX512F__)
    return __builtin_shufflevector(low, high, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15);
#elif defined(__AVX__)
    return __builtin_shufflevector(low, high, 0, 1, 2, 3, 4, 5, 6, 7);
#else
    return __builtin_shufflevector(low, high, 0, 1, 2, 3);
#endif
}

BOXROOM_INLINE Floats square_root(Floats x) {
    for (int i = 0; i < floats; ++i) x[i] = __builtin_sqrtf(x[i]);
    return x;
}
BOXROOM_INLINE Doubles square_root(Doubles x) {
    for (int i = 0; i < doubles; ++i) x[i] = __builtin_sqrt(x[i]);
    return x;
}

/// By Horner's rule; the coefficient of the highest power comes first.
template <typename Vector, typename Number, typename... More>
BOXROOM_INLINE Vector polynomial(Vector x, Number highest, More... others) {
    Vector p = all(highest);
    ((p = p * x + others), ...);
    return p;
}

// Adding this leaves the nearest whole number in the lowest bits; taking it away again rounds.
inline constexpr float float_rounder = 12582912.0f;           // 1.5 2^23
inline constexpr double double_rounder = 6755399441055744.0;  // 1.5 2^52

/// e^x for |x| < 87 (below: about zero), to two units in the last place. Taylor on |x| < ln(2)/2.
BOXROOM_INLINE Floats exponential(Floats x) {
    x = larger(x, all(-87.0f));
    const Floats shifted = x * 1.44269504f + float_rounder, n = shifted - float_rounder;
    const Floats r = (x - n * 0.693359375f) + n * 2.12194440e-4f;  // ln 2 in two parts
    const Floats p =
        polynomial(r, 1.0f / 5040, 1.0f / 720, 1.0f / 120, 1.0f / 24, 1.0f / 6, 0.5f, 1.0f, 1.0f);
    return (Floats)((Ints)p + ((Ints)shifted << 23));
}
/// e^x for |x| < 700 (below: about zero), to two units in the last place.
BOXROOM_INLINE Doubles exponential(Doubles x) {
    x = larger(x, all(-700.0));
    const Doubles shifted = x * 1.4426950408889634 + double_rounder, n = shifted - double_rounder;
    const Doubles r = (x - n * 0.693147180369123816490) - n * 1.90821492927058770002e-10;
    const Doubles p =
        polynomial(r, 1.0 / 479001600, 1.0 / 39916800, 1.0 / 3628800, 1.0 / 362880, 1.0 / 40320,
                   1.0 / 5040, 1.0 / 720, 1.0 / 120, 1.0 / 24, 1.0 / 6, 0.5, 1.0, 1.0);
    return (Doubles)((Longs)p + ((Longs)shifted << 52));
}

template <typename Vector>
struct SineCosine {
    Vector sine, cosine;
};

/// sin and cos of (n + rest) quarter turns, n in the lowest bits of `shifted`, |rest| <= 1/2.
BOXROOM_INLINE SineCosine<Floats> from_quarters(Floats shifted, Floats rest) {
    const Floats x = rest * 1.57079633f, z = x * x;
    const Floats s = x * polynomial(z, 1.0f / 362880, -1.0f / 5040, 1.0f / 120, -1.0f / 6, 1.0f);
    const Floats c = polynomial(z, 1.0f / 40320, -1.0f / 720, 1.0f / 24, -0.5f, 1.0f);
    const Ints n = (Ints)shifted;
    const Ints odd = -(n & 1);
    const Ints sine = ((Ints)c & odd) | ((Ints)s & ~odd);
    const Ints cosine = ((Ints)s & odd) | ((Ints)c & ~odd);
    return {(Floats)(sine ^ ((n & 2) << 30)), (Floats)(cosine ^ (((n + 1) & 2) << 30))};
}
BOXROOM_INLINE SineCosine<Doubles> from_quarters(Doubles shifted, Doubles x) {
    const Doubles z = x * x;
    const Doubles s = x * polynomial(z, -1.0 / 1307674368000, 1.0 / 6227020800, -1.0 / 39916800,
                                     1.0 / 362880, -1.0 / 5040, 1.0 / 120, -1.0 / 6, 1.0);
    const Doubles c = polynomial(z, -1.0 / 87178291200, 1.0 / 479001600, -1.0 / 3628800,
                                 1.0 / 40320, -1.0 / 720, 1.0 / 24, -0.5, 1.0);
    const Longs n = (Longs)shifted;
    const Longs odd = -(n & 1);
    const Longs sine = ((Longs)c & odd) | ((Longs)s & ~odd);
    const Longs cosine = ((Longs)s & odd) | ((Longs)c & ~odd);
    return {(Doubles)(sine ^ ((n & 2) << 62)), (Doubles)(cosine ^ (((n + 1) & 2) << 62))};
}

/// For |x| < 1000, to 1e-7 and what x is rounded by.
BOXROOM_INLINE SineCosine<Floats> sine_cosine(Floats x) {
    const Floats shifted = x * 0.636619772f + float_rounder, n = shifted - float_rounder;
    const Floats rest = (x - n * 1.5703125f) - n * 4.83826794897e-4f;  // pi/2 in two parts
    return from_quarters(shifted, rest * 0.636619772f);
}
/// For |x| < 1e6, to 1e-15.
BOXROOM_INLINE SineCosine<Doubles> sine_cosine(Doubles x) {
    const Doubles shifted = x * 0.63661977236758134 + double_rounder, n = shifted - double_rounder;
    const Doubles rest = (x - n * 1.57079632673412561417) - n * 6.07710050650619224932e-11;
    return from_quarters(shifted, rest);
}

/// log2 of positive numbers: exponent from the bits, t P(t) with P of degree 4 for the rest
/// (minimax on sqrt(1/2) .. sqrt(2)). Error below 1.5e-5, which is 4.5e-5 dB of a power. Zero gives
/// about -127, as good as silence.
BOXROOM_INLINE Floats logarithm(Floats x) {
    constexpr int half_root = 0x3f3504f3;  // the bits of sqrt(1/2)
    const Ints bits = (Ints)x - half_root;
    const Floats t = (Floats)((bits & 0x007fffff) + half_root) - 1.0f;
    const Floats p =
        polynomial(t, 0.252660276f, -0.394575371f, 0.486686151f, -0.720241803f, 1.44257801f);
    return __builtin_convertvector(bits >> 23, Floats) + t * p;
}
/// log2 of positive normal numbers, to 1e-15 of the result or so: 2/ln 2 artanh((m - 1)/(m + 1)).
BOXROOM_INLINE Doubles logarithm(Doubles x) {
    constexpr long long half_root = 0x3fe6a09e667f3bcd, lowest = 0x0010000000000000;
    const Longs bits = (Longs)x - (half_root - 1023 * lowest);  // exponent + 1023 on top
    const Longs mantissa = (bits & (lowest - 1)) + half_root;
    const Doubles m = (Doubles)mantissa;
    // The whole number in the bits of a double: 2^52 + n, less 2^52.
    constexpr long long two_52 = 0x4330000000000000;
    const Doubles exponent =
        (Doubles)((Longs)((UnsignedLongs)bits >> 52) | two_52) - (4503599627370496.0 + 1023);
    const Doubles t = (m - 1.0) / (m + 1.0), z = t * t;
    const Doubles p = polynomial(z, 1.0 / 17, 1.0 / 15, 1.0 / 13, 1.0 / 11, 1.0 / 9, 1.0 / 7,
                                 1.0 / 5, 1.0 / 3, 1.0);
    return exponent + t * p * 2.8853900817779268;
}

/// Complex numbers, so many at a time.
template <typename Vector>
struct Complexes {
    Vector re, im;
};
template <typename V>
BOXROOM_INLINE Complexes<V> operator+(Complexes<V> a, Complexes<V> b) {
    return {a.re + b.re, a.im + b.im};
}
template <typename V>
BOXROOM_INLINE Complexes<V> operator-(Complexes<V> a, Complexes<V> b) {
    return {a.re - b.re, a.im - b.im};
}
template <typename V>
BOXROOM_INLINE Complexes<V> operator*(Complexes<V> a, Complexes<V> b) {
    return {a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
}
template <typename V>
BOXROOM_INLINE Complexes<V> operator*(V a, Complexes<V> b) {
    return {a * b.re, a * b.im};
}
template <typename V>
BOXROOM_INLINE V size_squared(Complexes<V> a) {
    return a.re * a.re + a.im * a.im;
}
template <typename V>
BOXROOM_INLINE Complexes<V> operator/(Complexes<V> a, Complexes<V> b) {
    const V scale = 1 / size_squared(b);
    return {(a.re * b.re + a.im * b.im) * scale, (a.im * b.re - a.re * b.im) * scale};
}
template <typename V, typename Mask>
BOXROOM_INLINE Complexes<V> choose(Mask mask, Complexes<V> yes, Complexes<V> no) {
    return {mask ? yes.re : no.re, mask ? yes.im : no.im};
}
template <typename V>
BOXROOM_INLINE Complexes<V> exponential(Complexes<V> z) {
    const V size = exponential(z.re);
    const auto turn = sine_cosine(z.im);
    return {size * turn.cosine, size * turn.sine};
}
/// The root with a real part that is not negative; not for zero.
template <typename V>
BOXROOM_INLINE Complexes<V> square_root(Complexes<V> z) {
    const V size = square_root(size_squared(z));
    const V magnitude = z.re < 0 ? -z.re : z.re;
    const V more = square_root((size + magnitude) / 2), less = z.im / (2 * more);
    const V minus = less < 0 ? -less : less;
    return {z.re < 0 ? minus : more, z.re < 0 ? (z.im < 0 ? -more : more) : less};
}

}  // namespace boxroom::BOXROOM_VECTORS
