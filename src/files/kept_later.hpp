#pragma once
#include <future>
#include <string>
#include <utility>

#include "files/kept_rooms.hpp"

namespace boxroom {

/// Keeps solved rooms beside the work of whoever solved them: tens of megabytes are summed and
/// written in a tenth of a second. The last one that lives waits until all are written.
class KeptLater {
  public:
    explicit KeptLater(KeptRooms kept) : kept_(std::move(kept)) {}

    /// One after another, in the order that they came.
    void write(std::string key, Pieces bytes);

  private:
    KeptRooms kept_;
    std::future<void> last_;  ///< its end waits for what it stands for
};

}  // namespace boxroom
