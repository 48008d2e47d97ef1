#pragma once
#include <Eigen/Core>
#include <vector>

#include "solvers/modal_parts.hpp"
#include "solvers/ports.hpp"

/// What the ports are worked out with; not for use outside of them.
namespace boxroom::modal_parts {

/// A point or a flat rectangle, over which the pressure is averaged.
struct Extent {
    Point low, high;
};

/// The patches in one wall of a cuboid, and the pressure that their flow makes in it.
///
/// Z = j w rho sum_mn <psi_m><psi_m>/Lambda_m <psi_n><psi_n>/Lambda_n <G_mn>, where < > is the mean
/// over the patch or the extent, m and n belong to the axes of the wall's plane and G is the closed
/// form along the third, from the wall. In the wall itself the sum converges as 1/q^3 thanks to the
/// means; it ends at the wave number `reach`. Elsewhere it ends where terms have decayed.
class PortWall {
  public:
    PortWall(const Room& cuboid, int wall, std::vector<Extent> patches, double reach);

    /// Mean pressure over each extent for unit flow from each patch [Pa s/m3]: (extents, patches).
    Eigen::MatrixXcd transfer(const Air& air, double frequency,
                              const std::vector<Extent>& extents) const;

    /// Points in the order in which `field` is quick.
    struct Targets {
        std::vector<double> along, second;           ///< distinct coordinates: off the wall, in it
        std::vector<int> along_index, second_index;  ///< of each point
        std::vector<double> first;                   ///< the other coordinate in the wall
    };
    Targets targets(std::span<const Point> points) const;
    /// Pressure at each point (rows) for each column of flow from the patches.
    Eigen::MatrixXcd field(const Air& air, double frequency, const Targets& points,
                           const Eigen::MatrixXcd& flow) const;

  private:
    struct Modes;
    Modes modes(const Air& air, double frequency, double limit) const;
    double limit_at(double distance, double k) const;

    Room cuboid_;
    int axis_, a_, b_;  ///< the wall's own axis and those of its plane
    bool far_;
    std::vector<Extent> patches_;
    double reach_;
};

}  // namespace boxroom::modal_parts
