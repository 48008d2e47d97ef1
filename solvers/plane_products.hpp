#pragma once
#include "solvers/product_vectors.hpp"

namespace boxroom {

// Products of either precision; not beside product_vectors, whose header the files for one set of
// instructions read.

/// out = a b.
inline void multiply(const ProductVectors& by, const ComplexProduct<float>& product) {
    by.product(product);
}
inline void multiply(const ProductVectors& by, const ComplexProduct<double>& product) {
    by.product_of_doubles(product);
}
/// out -= a b.
inline void subtract(const ProductVectors& by, const ComplexProduct<float>& product) {
    by.less_product(product);
}
inline void subtract(const ProductVectors& by, const ComplexProduct<double>& product) {
    by.less_product_of_doubles(product);
}

}  // namespace boxroom
