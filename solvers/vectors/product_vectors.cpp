// Compiled once for each set of vector instructions: see base/lanes.hpp for what it may read.
#include "solvers/product_vectors.hpp"

#include "base/lanes.hpp"

namespace boxroom::BOXROOM_VECTORS {
namespace {

/// `Rows` rows by `Wide` vectors of a product, in registers; then what is out is this, or less by
/// it.
template <bool Less, typename Vector, int Rows, int Wide, typename Real>
BOXROOM_INLINE void block(const ComplexProduct<Real>& p, int row, int column) {
    constexpr int lanes = sizeof(Vector) / sizeof(Real);
    Vector re[Rows][Wide] = {}, im[Rows][Wide] = {};
    const Real *a_re = p.a_re + row * p.a_row, *a_im = p.a_im + row * p.a_row;
    const Real *b_re = p.b_re + column, *b_im = p.b_im + column;
    for (int n = 0; n < p.terms; ++n) {
        Vector x[Wide], y[Wide];
        for (int w = 0; w < Wide; ++w) {
            x[w] = load<Vector>(b_re + w * lanes);
            y[w] = load<Vector>(b_im + w * lanes);
        }
        if constexpr (Less) {  // what an elimination left comes from far: two lines ahead
            __builtin_prefetch(a_re + 32);
            __builtin_prefetch(a_im + 32);
        }
        for (int r = 0; r < Rows; ++r) {
            const Vector u = a_re[r * p.a_row] - Vector{}, v = a_im[r * p.a_row] - Vector{};
            for (int w = 0; w < Wide; ++w) {
                re[r][w] += u * x[w];
                im[r][w] += u * y[w];
                re[r][w] -= v * y[w];
                im[r][w] += v * x[w];
            }
        }
        a_re += p.a_term, a_im += p.a_term, b_re += p.b_term, b_im += p.b_term;
    }
    for (int r = 0; r < Rows; ++r)
        for (int w = 0; w < Wide; ++w) {
            const int at = (row + r) * p.out_row + column + w * lanes;
            if constexpr (Less) {
                store(p.out_re + at, load<Vector>(p.out_re + at) - re[r][w]);
                store(p.out_im + at, load<Vector>(p.out_im + at) - im[r][w]);
            } else {
                store(p.out_re + at, re[r][w]);
                store(p.out_im + at, im[r][w]);
            }
        }
}

template <bool Less, typename Vector, int Rows, int Wide, typename Real>
BOXROOM_INLINE int columns_of(const ComplexProduct<Real>& p, int row, int column) {
    constexpr int step = Wide * static_cast<int>(sizeof(Vector) / sizeof(Real));
    for (; column + step <= p.columns; column += step)
        block<Less, Vector, Rows, Wide>(p, row, column);
    return column;
}

template <bool Less, int Rows, int Wide>
BOXROOM_INLINE void rows_of(const ComplexProduct<float>& p, int row) {
    int column = columns_of<Less, Floats, Rows, Wide>(p, row, 0);
    if constexpr (Wide > 1) column = columns_of<Less, Floats, Rows, 1>(p, row, column);
    if constexpr (floats > 8) columns_of<Less, HalfFloats, Rows, 1>(p, row, column);
}

template <bool Less, int Rows, int Wide>
BOXROOM_INLINE void rows_of(const ComplexProduct<double>& p, int row) {
    const int column = columns_of<Less, Doubles, Rows, Wide>(p, row, 0);
    if constexpr (Wide > 1) columns_of<Less, Doubles, Rows, 1>(p, row, column);
}

template <bool Less, typename Real>
BOXROOM_INLINE void whole_product(const ComplexProduct<Real>& p) {
    constexpr int wide = vector_bytes > 32 ? 2 : 1;  // as registers allow
    int row = 0;
    for (; row + 4 <= p.rows; row += 4) rows_of<Less, 4, wide>(p, row);
    if (p.rows - row == 3) rows_of<Less, 3, wide>(p, row);
    if (p.rows - row == 2) rows_of<Less, 2, 2>(p, row);
    if (p.rows - row == 1) rows_of<Less, 1, 4>(p, row);
}
void product(const ComplexProduct<float>& p) {
    whole_product<false>(p);
}
void product_of_doubles(const ComplexProduct<double>& p) {
    whole_product<false>(p);
}
void less_product(const ComplexProduct<float>& p) {
    whole_product<true>(p);
}
void less_product_of_doubles(const ComplexProduct<double>& p) {
    whole_product<true>(p);
}

template <typename Vector>
BOXROOM_INLINE void add_product(const float* a_re, const float* a_im, const float* b_re,
                                const float* b_im, float* out_re, float* out_im) {
    const Complexes<Vector> a{load<Vector>(a_re), load<Vector>(a_im)},
        b{load<Vector>(b_re), load<Vector>(b_im)}, sum{load<Vector>(out_re), load<Vector>(out_im)};
    const auto out = sum + a * b;
    store(out_re, out.re);
    store(out_im, out.im);
}

void add_products(int rows, int columns, const float* a_re, const float* a_im, int a_row,
                  const float* b_re, const float* b_im, float* out_re, float* out_im, int out_row) {
    for (int r = 0; r < rows; ++r) {
        int i = 0;
        for (; i + floats <= columns; i += floats)
            add_product<Floats>(a_re + i, a_im + i, b_re + i, b_im + i, out_re + i, out_im + i);
        if constexpr (floats > 8)
            if (i < columns)
                add_product<HalfFloats>(a_re + i, a_im + i, b_re + i, b_im + i, out_re + i,
                                        out_im + i);
        a_re += a_row, a_im += a_row, out_re += out_row, out_im += out_row;
    }
}

template <typename Vector, int Wide>
BOXROOM_INLINE int add_weighted_from(int i, int count, int terms, const float* weight,
                                     const float* const* from, float* to) {
    constexpr int lanes = sizeof(Vector) / sizeof(float);
    for (; i + Wide * lanes <= count; i += Wide * lanes) {
        Vector sum[Wide];
        for (int w = 0; w < Wide; ++w) sum[w] = load<Vector>(to + i + w * lanes);
        for (int n = 0; n < terms; ++n)
            for (int w = 0; w < Wide; ++w)
                sum[w] += weight[n] * load<Vector>(from[n] + i + w * lanes);
        for (int w = 0; w < Wide; ++w) store(to + i + w * lanes, sum[w]);
    }
    return i;
}
void add_weighted(int count, int terms, const float* weight, const float* const* from, float* to) {
    int i = add_weighted_from<Floats, 4>(0, count, terms, weight, from, to);
    i = add_weighted_from<Floats, 1>(i, count, terms, weight, from, to);
    add_weighted_from<HalfFloats, 1>(i, count, terms, weight, from, to);  // of AVX-512: the last 8
}

}  // namespace

extern const ProductVectors product_vectors;
const ProductVectors product_vectors{
    product, product_of_doubles, less_product, less_product_of_doubles, add_products, add_weighted};

}  // namespace boxroom::BOXROOM_VECTORS
