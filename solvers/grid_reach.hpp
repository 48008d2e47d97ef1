#pragma once
#include <complex>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "solvers/grid.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// Nodes of a grid and what each counts for a point between them.
using NodeWeights = std::vector<std::pair<std::size_t, double>>;

/// Transfer impedances from one point to many nodes of a grid, and by the grid's own interpolation
/// to any point among these. That a source is spread over the nodes by the same weights and the
/// scheme is reciprocal makes this exactly what grid_transfer gives for the two points, up to the
/// sound that is left when a run ends (GridOptions::left_db).
class NodeField {
  public:
    bool empty() const { return row_of_.empty(); }
    /// True if all these nodes were listened at.
    bool reaches(const NodeWeights& weights) const;
    /// Z at frequency number f [Pa s/m3]; every node must be reached.
    std::complex<double> at(const NodeWeights& weights, std::size_t f) const;
    std::size_t bytes() const;

  private:
    friend class GridReach;
    std::size_t frequencies_ = 0;
    std::vector<std::int32_t> row_of_;        ///< of each node; -1: not listened at
    std::vector<std::complex<float>> value_;  ///< [row * frequencies + f]
};

/// A room cut into cells once, to be asked many times: what follows a hand in real time where one
/// solution takes a second.
class GridReach {
  public:
    GridReach(const Room& room, const Air& air, std::vector<double> frequency, GridOptions options);

    const PlanFit& fit() const { return fit_; }
    const GridShape& shape() const { return shape_; }
    const std::vector<double>& frequency() const { return frequency_; }

    /// Throws Error for a point without air near it.
    NodeWeights weights(const Point& point) const;

    /// One run from `from`, listening at all nodes that points of the room between two heights [m]
    /// may need, and at those of `also`. Empty where `stop` ended it early. `progress` and `stop`
    /// are called from any thread, one call at a time.
    NodeField solve(const Point& from, double low, double high, std::span<const Point> also,
                    const std::function<void(double share)>& progress,
                    const std::function<bool()>& stop) const;

  private:
    std::vector<std::size_t> nodes_between(double low, double high) const;
    Point place_of(std::size_t node) const;

    Air air_;
    std::vector<double> frequency_;
    GridOptions options_;
    double width_, length_;
    PlanFit fit_;
    GridShape shape_;
    GridNodes nodes_;
};

}  // namespace boxroom
