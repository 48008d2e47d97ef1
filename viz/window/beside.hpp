#pragma once
#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

namespace boxroom {

/// Work beside the window: one thread that answers the newest question. A question that was not yet
/// begun when a newer one came is dropped, so a drag never queues up. `work` must not throw.
template <typename Question, typename Answer>
class Beside {
  public:
    explicit Beside(std::function<Answer(const Question&)> work)
        : work_(std::move(work)), thread_([this] { run(); }) {}
    Beside(const Beside&) = delete;
    Beside& operator=(const Beside&) = delete;
    ~Beside() {
        {
            const std::lock_guard lock(mutex_);
            ending_ = true;
        }
        changed_.notify_all();
        thread_.join();
    }

    void ask(Question question) {
        {
            const std::lock_guard lock(mutex_);
            question_ = std::move(question);
        }
        changed_.notify_all();
    }
    /// The newest answer, once.
    std::optional<Answer> take() {
        const std::lock_guard lock(mutex_);
        return std::exchange(answer_, std::nullopt);
    }
    bool busy() {
        const std::lock_guard lock(mutex_);
        return question_ || working_;
    }
    /// Whether the question being worked on is no longer the newest; asked by `work` itself.
    bool outdated() {
        const std::lock_guard lock(mutex_);
        return question_ || ending_;
    }
    /// Waits until nothing is left to be done.
    void settle() {
        std::unique_lock lock(mutex_);
        changed_.wait(lock, [this] { return !question_ && !working_; });
    }

  private:
    void run() {
        std::unique_lock lock(mutex_);
        while (true) {
            changed_.wait(lock, [this] { return question_ || ending_; });
            if (ending_) return;
            const Question question = *std::exchange(question_, std::nullopt);
            working_ = true;
            lock.unlock();
            Answer answer = work_(question);
            lock.lock();
            answer_ = std::move(answer);
            working_ = false;
            changed_.notify_all();
        }
    }

    std::function<Answer(const Question&)> work_;
    std::mutex mutex_;
    std::condition_variable changed_;
    std::optional<Question> question_;
    std::optional<Answer> answer_;
    bool working_ = false, ending_ = false;
    std::thread thread_;  // last: it uses everything above
};

}  // namespace boxroom
