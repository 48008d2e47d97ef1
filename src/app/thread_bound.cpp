#include "app/thread_bound.hpp"

#ifdef _OPENMP
#include <omp.h>
#endif
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <string>

namespace boxroom {

void bound_threads([[maybe_unused]] int asked, [[maybe_unused]] char** arguments) {
#ifdef _OPENMP
    const int most = std::max(64, omp_get_num_procs());
    if (omp_get_max_threads() > most) {
        setenv("OMP_NUM_THREADS", std::to_string(most).c_str(), 1);
        execv("/proc/self/exe", arguments);
        omp_set_num_threads(most);  // it could not: at least this thread's own teams
    }
    if (asked > 0) omp_set_num_threads(std::min(asked, most));
#endif
}

}  // namespace boxroom
