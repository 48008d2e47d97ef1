#pragma once
#include <atomic>
#include <thread>

namespace boxroom {

/// Holds threads until all of `parts` are there. It spins, for a step takes microseconds, but gives
/// way when the others are late: a barrier that only spins stalls where the machine has other work.
class StepBarrier {
  public:
    void wait(int parts) {
        if (parts == 1) return;
        const unsigned round = round_.load(std::memory_order_acquire);
        if (arrived_.fetch_add(1, std::memory_order_acq_rel) + 1 == parts) {
            arrived_.store(0, std::memory_order_relaxed);
            round_.fetch_add(1, std::memory_order_release);
            return;
        }
        for (int spin = 0; round_.load(std::memory_order_acquire) == round; ++spin)
            if (spin > 2000) std::this_thread::yield();
    }

  private:
    std::atomic<int> arrived_{0};
    std::atomic<unsigned> round_{0};
};

}  // namespace boxroom
