#include "app/thread_bound.hpp"

#ifdef _OPENMP
#include <omp.h>
#endif
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <string>

namespace boxroom {

namespace {

#ifdef _OPENMP
int most_threads() {
    return std::max(64, omp_get_num_procs());
}
#endif

}  // namespace

void bound_threads([[maybe_unused]] char** arguments) {
#ifdef _OPENMP
    const int most = most_threads();
    if (omp_get_max_threads() > most) {
        setenv("OMP_NUM_THREADS", std::to_string(most).c_str(), 1);
        execv("/proc/self/exe", arguments);
        omp_set_num_threads(most);  // it could not: at least this thread's own teams
    }
#endif
}

void use_threads([[maybe_unused]] int asked) {
#ifdef _OPENMP
    if (asked > 0) omp_set_num_threads(std::min(asked, most_threads()));
#endif
}

}  // namespace boxroom
