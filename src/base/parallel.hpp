#pragma once
#include <cstddef>
#include <exception>

namespace boxroom {

/// Keeps the first exception of many threads: one that leaves a parallel region ends the program.
class FirstFailure {
  public:
    template <typename Body>
    void guard(const Body& body) {
        try {
            body();
        } catch (...) {
#pragma omp critical(boxroom_first_failure)
            if (!failure_) failure_ = std::current_exception();
        }
    }
    /// Throws what was kept, if anything. Call it after the parallel region.
    void rethrow() const {
        if (failure_) std::rethrow_exception(failure_);
    }

  private:
    std::exception_ptr failure_;
};

/// Runs body(i) for i = 0 .. count - 1 on all threads, `chunk` of them at a time to each, in any
/// order; the first exception comes out again once all are over.
template <typename Body>
void for_each_in_parallel(std::size_t count, int chunk, const Body& body) {
    FirstFailure failure;
#pragma omp parallel for schedule(dynamic, chunk)
    for (std::size_t i = 0; i < count; ++i) failure.guard([&] { body(i); });
    failure.rethrow();
}

/// The same with something for each thread to work with: body(i, workspace).
template <typename Workspace, typename Body>
void for_each_in_parallel_with(std::size_t count, int chunk, const Body& body) {
    FirstFailure failure;
#pragma omp parallel
    {
        Workspace workspace;
#pragma omp for schedule(dynamic, chunk)
        for (std::size_t i = 0; i < count; ++i) failure.guard([&] { body(i, workspace); });
    }
    failure.rethrow();
}

}  // namespace boxroom
