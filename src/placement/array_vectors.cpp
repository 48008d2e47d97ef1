#include "placement/array_vectors.hpp"

BOXROOM_VECTOR_TABLE(ArrayVectors, array_vectors)
