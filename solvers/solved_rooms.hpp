#pragma once
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "solvers/reduced_room.hpp"

namespace boxroom {

/// Where solved rooms are kept from one run of the program to the next.
struct RoomStore {
    std::function<std::optional<std::string>(const std::string& key)> read;
    std::function<void(const std::string& key, const Pieces& bytes)> write;
};

/// Everything that the fields in a room depend on, as bytes: its shape, its surfaces, contents and
/// air, the top of the band, the places that were learnt, and the version of the elements.
std::string solved_room_key(const Room& room, const Air& air, double highest_frequency,
                            std::span<const Point> learnt);

/// The rooms that a run of the program solves by elements, each once, whoever asks. Any thread may.
///
/// A basis is slightly another when it has learnt other places, so each set of places has its own:
/// the seats', and for other places one that has learnt the seats and then these. An answer thus
/// depends on what is asked alone, neither on what was asked before nor on what was kept.
class SolvedRooms {
  public:
    SolvedRooms() = default;
    /// `seats` are learnt first, and `highest` [Hz] is in the band of every room.
    explicit SolvedRooms(RoomStore store, std::vector<Point> seats = {}, double highest = 0)
        : store_(std::move(store)), seats_(std::move(seats)), highest_(highest) {}
    /// Told how much of a solve is done: 0 at the beginning of each. Before the first is asked for.
    void tell(std::function<void(double share)> progress) { progress_ = std::move(progress); }

    /// Z [Pa s/m3]; see ReducedRoom.
    template <typename Real>
    TransferImpedance<Real> transfer(const Room& room, const Air& air,
                                     std::span<const double> frequency,
                                     std::span<const Point> sources,
                                     std::span<const Point> receivers);
    /// What it has learnt at the seats as a store keeps it: its key and its bytes.
    std::pair<std::string, Pieces> kept(const Room& room, const Air& air, double highest);
    /// See ReducedRoom; by what was learnt at the seats, or in the corners where there are none.
    std::vector<FreeOscillation> free_oscillations(const Room& room, const Air& air,
                                                   double highest);
    /// A copy of one that has learnt, beside the seats, what sources at some places do in rooms of
    /// its shape with other walls and contents. `progress`, where given, is told in place of the
    /// other.
    ReducedRoom varied(const Room& room, const Air& air, double highest,
                       std::span<const Room> others, std::span<const Point> places,
                       const std::function<void(double share)>& progress = {});
    /// Of the room that is furthest off; no unknowns: none was solved.
    ReducedReport report() const;

  private:
    using Progress = std::function<void(double)>;
    ReducedRoom& solved(const Room& room, const Air& air, double highest,
                        const std::vector<Point>& places, const Progress& progress);
    const ReducedRoom& bare(const Room& room, const Air& air, double highest);
    std::vector<Point> seats_in(const Room& room) const;
    double band_of(double highest) const;
    RoomStore store_;
    Progress progress_;
    std::vector<Point> seats_;
    double highest_ = 0;
    mutable std::mutex mutex_;
    std::map<std::string, ReducedRoom> rooms_;
    std::map<std::string, std::vector<FreeOscillation>> free_;
};

}  // namespace boxroom
