#include "placement/set_vectors.hpp"

BOXROOM_VECTOR_TABLE(SetVectors, set_vectors)
