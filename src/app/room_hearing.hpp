#pragma once
#include <complex>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/by_frequency.hpp"
#include "placement/scenario.hpp"
#include "results/room_view.hpp"

namespace boxroom {

/// A room that cannot be solved within a frame, for a window that cannot wait: what was solved is
/// kept, and what is missing is prepared beside. Safe for several threads at once.
class RoomHearing {
  public:
    using Pressures = std::vector<std::complex<double>>;
    virtual ~RoomHearing() = default;

    /// Z (F,S,Q) [Pa s/m3]; nothing where a pair is not known yet.
    virtual std::optional<ByFrequency<std::complex<double>>> transfer(
        const std::vector<PlacedSub>& subs, const std::vector<Seat>& seats) const = 0;
    /// Z from a sub to these points at nearest_frequency(frequency); nothing before it is
    /// prepared. 0 for a point without air near it.
    virtual std::optional<Pressures> field(const Point& sub, const std::vector<Point>& points,
                                           double frequency) const = 0;
    /// The same at once but less true; nothing where that cannot be had.
    virtual std::optional<Pressures> sketch(const Point& sub, const std::vector<Point>& points,
                                            double frequency) const = 0;
    virtual double nearest_frequency(double frequency) const = 0;

    /// One step of what is missing. `points` are those that field() will be asked for.
    virtual Preparation prepare(const Arrangement& arrangement, const std::vector<Point>& points,
                                const std::function<void(const std::string&, double)>& say,
                                const std::function<bool()>& stop) = 0;
};

}  // namespace boxroom
