#pragma once
#include <memory>
#include <mutex>

#include "app/room_hearing.hpp"
#include "solvers/grid_reach.hpp"

namespace boxroom {

/// A room solved on a grid in the window: one run for every seat and every sub is kept. A sub that
/// moves is heard through the seats' runs (by reciprocity), a seat that moves through the subs', so
/// either follows the hand; only the picture of the field needs a new run, and until it is there a
/// sketch on coarse cells.
class GridHearing : public RoomHearing {
  public:
    /// Keeps a reference to the scenario.
    explicit GridHearing(const Scenario& scenario);

    std::optional<ByFrequency<std::complex<double>>> transfer(
        const std::vector<PlacedSub>& subs, const std::vector<Seat>& seats) const override;
    /// Nothing before the sub's run is kept.
    std::optional<Pressures> field(const Point& sub, const std::vector<Point>& points,
                                   double frequency) const override;
    /// On cells of 0.2 m, good to a few dB, in some hundredths of a second; nothing where the room
    /// cannot be cut so coarsely. Nothing either while the last one is younger than four times what
    /// it took: the curves of a drag shall not wait for pictures.
    std::optional<Pressures> sketch(const Point& sub, const std::vector<Point>& points,
                                    double frequency) const override;
    /// The nearest that is analysed.
    double nearest_frequency(double frequency) const override;
    /// One missing run, subs before seats; more: others are missing still.
    Preparation prepare(const Arrangement& arrangement, const std::vector<Point>& points,
                        const std::function<void(const std::string&, double)>& say,
                        const std::function<bool()>& stop) override;

  private:
    using Field = std::shared_ptr<const NodeField>;
    struct Kept {
        Point from;
        Field field;
    };
    struct Weighed {
        std::vector<Point> points;
        std::vector<NodeWeights> weights;
    };
    /// A run that is missing: from where, for whom, and what it must reach.
    struct Missing {
        bool is_sub;
        std::string name;
        Point from;
        std::vector<Point> reach;
    };
    std::vector<Missing> missing(const Arrangement& arrangement,
                                 const std::vector<Point>& points) const;
    Field find(const std::vector<Kept>& all, const Point& from) const;
    void keep(const Missing& run, NodeField field, const Arrangement& in_use);
    std::shared_ptr<const Weighed> weighed(const std::vector<Point>& points) const;

    const Scenario& scenario_;
    GridReach reach_;
    mutable std::mutex mutex_;                        ///< of all below
    std::vector<Kept> seats_, subs_;                  ///< newest last
    mutable std::shared_ptr<const Weighed> weighed_;  ///< the points asked for last
    mutable std::mutex sketching_;
    mutable std::optional<GridReach> coarse_;
    mutable double sketched_ = -1e9, sketch_took_ = 0;  ///< [s]
};

}  // namespace boxroom
