#pragma once
#include <memory>
#include <mutex>

#include "app/room_hearing.hpp"
#include "solvers/heard_room.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {

/// A room that is no rectangle in the window, by elements and a reduced basis. The basis of the
/// file's seats, which other commands may have kept, hears everything at once: a sub that moves
/// through the fields of the seats, a seat that moves through those of the subs (by reciprocity). A
/// place that it has not learnt may be half a decibel off and is learnt when the hand lets go.
class ElementHearing : public RoomHearing {
  public:
    /// Keeps a reference to the scenario.
    explicit ElementHearing(const Scenario& scenario);

    std::optional<ByFrequency<std::complex<double>>> transfer(
        const std::vector<PlacedSub>& subs, const std::vector<Seat>& seats) const override;
    std::optional<Pressures> field(const Point& sub, const std::vector<Point>& points,
                                   double frequency) const override;
    std::optional<Pressures> sketch(const Point& sub, const std::vector<Point>& points,
                                    double frequency) const override;
    double nearest_frequency(double frequency) const override { return frequency; }
    Preparation prepare(const Arrangement& arrangement, const std::vector<Point>& points,
                        const std::function<void(const std::string&, double)>& say,
                        const std::function<bool()>& stop) override;

  private:
    struct Learnt {
        HeardRoom room;
        std::vector<Point> places;
    };
    std::shared_ptr<const Learnt> now() const;

    const Scenario& scenario_;
    std::shared_ptr<SolvedRooms> solved_;
    mutable std::mutex mutex_;  ///< of what follows
    std::shared_ptr<const Learnt> now_;
};

}  // namespace boxroom
