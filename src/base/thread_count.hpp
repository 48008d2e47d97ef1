#pragma once
#ifdef _OPENMP
#include <omp.h>
#endif

namespace boxroom {

/// How many threads a parallel region that begins now would have.
inline int thread_count() {
#ifdef _OPENMP
    return omp_get_max_threads();
#else
    return 1;
#endif
}

}  // namespace boxroom
