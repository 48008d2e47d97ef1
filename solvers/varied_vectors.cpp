#include "solvers/varied_vectors.hpp"

BOXROOM_VECTOR_TABLE(VariedVectors, varied_vectors)
