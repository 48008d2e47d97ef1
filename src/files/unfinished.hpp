#pragma once
#include <filesystem>
#include <mutex>
#include <vector>

namespace boxroom {

/// What this process has begun to write and not finished: the hidden folders of Staging, and
/// folders that were made for results. Whoever ends the program from outside its course
/// (app/orderly_end) takes it away. One for the process, since a signal is sent to a process.
class Unfinished {
  public:
    static Unfinished& work();

    void begun(const std::filesystem::path& folder);
    void done(const std::filesystem::path& folder);

    /// Nothing is taken away while one of these lives: what must be whole or not at all is done
    /// under it.
    using Hold = std::unique_lock<std::recursive_mutex>;
    Hold hold() { return Hold(busy_); }

    /// Hidden folders with all in them, others if they are empty. Nobody gets a hold any more: the
    /// program has to end.
    void take_away();

  private:
    std::recursive_mutex busy_;
    std::vector<std::filesystem::path> folders_;  ///< as they were begun
};

}  // namespace boxroom
