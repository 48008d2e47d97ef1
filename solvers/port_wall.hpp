#pragma once
#include <Eigen/Core>
#include <array>
#include <vector>

#include "solvers/modal_parts.hpp"
#include "solvers/ports.hpp"

/// What the ports are worked out with; not for use outside of them.
namespace boxroom::modal_parts {

/// A flat rectangle with a product of cosines on it, over which the pressure is averaged, or a
/// point.
struct Extent {
    Point low, high;
    std::array<int, 3> order{};  ///< of the cosine along each axis
};

/// The ports in one wall of a cuboid, and the pressure that their flow makes in it.
///
/// Z = j w rho sum_mn <psi_m><psi_m>/Lambda_m <psi_n><psi_n>/Lambda_n <G_mn>, where < > is the mean
/// over port or extent, m and n belong to the axes of the wall's plane and G is the closed form
/// along the third, from the wall. Off the wall the sum ends where terms have decayed. In the wall
/// it only converges as 1/q^3, but from wave number `split` on nothing in it depends on frequency
/// other than through 1/(q + jkb - k^2/(2q)) = 1/q - jkb/q^2 + (k^2/2 - (kb)^2)/q^3 (b the wall's
/// admittance): three sums, done once, with the rigid room's modes.
class PortWall {
  public:
    PortWall(const Room& cuboid, int wall, std::vector<Extent> ports, double highest_k);

    /// Mean pressure over each extent for unit flow from each port [Pa s/m3]: (extents, ports).
    Eigen::MatrixXcd transfer(const Air& air, Complex omega,
                              const std::vector<Extent>& extents) const;
    /// The same with the ports themselves as the extents.
    Eigen::MatrixXcd self(const Air& air, Complex omega) const;

    /// Points in the order in which `field` is quick.
    struct Targets {
        std::vector<double> off, first, second;  ///< distinct: off the wall, and along its axes
        std::vector<int> off_index, first_index, second_index;  ///< of each point
    };
    Targets targets(std::span<const Point> points) const;
    /// Pressure at each point (rows) for each column of flow from the ports.
    Eigen::MatrixXcd field(const Air& air, Complex omega, const Targets& points,
                           const Eigen::MatrixXcd& flow) const;

  private:
    struct Modes;
    Modes modes(const Air& air, Complex omega, double limit) const;
    double limit_at(double distance, double k) const;
    double rigid(int m, int n) const;  ///< (m pi/a)^2 + (n pi/b)^2
    void sum_tails();

    Room cuboid_;
    int axis_, a_, b_;  ///< the wall's own axis and those of its plane
    bool far_;
    std::vector<Extent> ports_;
    double split_;
    std::array<Eigen::MatrixXd, 3> tail_;  ///< sums of 1/q, 1/q^2, 1/q^3
};

}  // namespace boxroom::modal_parts
