#pragma once
#include <span>
#include <vector>

#include "solvers/varied_room.hpp"
#include "tuning/draws.hpp"

namespace boxroom {

/// Where a sub stands, and which of its set it is: each is moved by itself (Draw::shift).
struct DrawnSub {
    Point at;
    int number = 0;
    bool operator==(const DrawnSub&) const = default;
};

/// The draws of a room that is no rectangle, by elements: walls, contents, sides, seats and subs as
/// drawn. What spans the fields learns the room with all of its surfaces at either end
/// of their doubt and two draws (solvers/varied_room).
class DrawnRooms {
  public:
    static constexpr int together = VariedRoom::together;  ///< draws that are best solved at once

    /// Frequencies [Hz] rise.
    DrawnRooms(const Scenario& scenario, std::vector<DrawnSub> subs,
               std::span<const double> frequency);

    /// Z from the subs, in their order, at each draw's seats; any thread may.
    std::vector<TransferImpedance<float>> transfer(std::span<const Draw> draws) const;

  private:
    const Scenario& scenario_;
    std::vector<DrawnSub> subs_;
    VariedRoom room_;
};

}  // namespace boxroom
