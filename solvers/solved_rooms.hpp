#pragma once
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>

#include "solvers/reduced_room.hpp"

namespace boxroom {

/// Where solved rooms are kept from one run of the program to the next.
struct RoomStore {
    std::function<std::optional<std::string>(const std::string& key)> read;
    std::function<void(const std::string& key, const std::string& bytes)> write;
};

/// Everything that the fields in a room depend on, as bytes: its shape, its surfaces, contents and
/// air, the top of the band, and the version of the elements.
std::string solved_room_key(const Room& room, const Air& air, double highest_frequency);

/// The rooms that a run of the program solves by elements, each once, whoever asks. Any thread may.
class SolvedRooms {
  public:
    SolvedRooms() = default;
    explicit SolvedRooms(RoomStore store) : store_(std::move(store)) {}

    /// Z [Pa s/m3]; see ReducedRoom.
    template <typename Real>
    TransferImpedance<Real> transfer(const Room& room, const Air& air,
                                     std::span<const double> frequency,
                                     std::span<const Point> sources,
                                     std::span<const Point> receivers);
    /// Of the room that is furthest off; no unknowns: none was solved.
    ReducedReport report() const;

  private:
    ReducedRoom& solved(const Room& room, const Air& air, double highest, std::string& key);
    RoomStore store_;
    mutable std::mutex mutex_;
    std::map<std::string, ReducedRoom> rooms_;
};

}  // namespace boxroom
