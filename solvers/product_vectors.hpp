#pragma once
#include "base/processor.hpp"

namespace boxroom {

// Products of complex matrices, as two planes, of real and of imaginary parts:
// the files in vectors/ read nothing else (base/lanes.hpp says why).

/// out[r][i] = sum_n a[r][n] b[n][i] of complex numbers.
template <typename Real>
struct ComplexProduct {
    int rows, terms, columns;  ///< columns a multiple of 8
    const Real *a_re, *a_im;
    int a_row, a_term;  ///< steps from row to row and from term to term
    const Real *b_re, *b_im;
    int b_term;
    Real *out_re, *out_im;
    int out_row;
};

struct ProductVectors {
    void (*product)(const ComplexProduct<float>& product);
    void (*product_of_doubles)(const ComplexProduct<double>& product);
    /// The same taken from what is out.
    void (*less_product)(const ComplexProduct<float>& product);
    void (*less_product_of_doubles)(const ComplexProduct<double>& product);
    /// out[r][i] += a[r][i] b[i]; columns a multiple of 8.
    void (*add_products)(int rows, int columns, const float* a_re, const float* a_im, int a_row,
                         const float* b_re, const float* b_im, float* out_re, float* out_im,
                         int out_row);
    /// to[i] += sum_n weight[n] from[n][i]; count a multiple of 8.
    void (*add_weighted)(int count, int terms, const float* weight, const float* const* from,
                         float* to);
};

/// The one for these instructions, which the processor must have.
const ProductVectors& product_vectors(VectorSet set = vector_set());

}  // namespace boxroom
