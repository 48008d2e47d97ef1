#include "solvers/product_vectors.hpp"

BOXROOM_VECTOR_TABLE(ProductVectors, product_vectors)
