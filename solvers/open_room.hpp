#pragma once
#include <Eigen/Core>
#include <vector>

#include "solvers/port_wall.hpp"

/// What openings and the modes of an open room are worked out with; not for use outside of them.
namespace boxroom::modal_parts {

/// The rectangle that a space is, as a room by itself.
Room cuboid_of(const Space& space);

/// A rectangle with the ports of its openings, ready for every frequency. Keeps references.
class OpenRoom {
  public:
    /// `highest_k`: the highest wave number that will be asked for; `highest_port`: that of the
    /// ports, as in ports_of [1/m].
    OpenRoom(const Room& room, const Air& air, double highest_k, double highest_port = 12);

    /// The ports in one wall of one cuboid.
    struct InWall {
        int cuboid;
        std::vector<int> member;
        PortWall modes;
    };
    const std::vector<InWall>& walls() const { return walls_; }

    /// Mean pressure at each port for unit flow from a port, or from a point of the room.
    Eigen::MatrixXcd between_ports(Complex omega) const;
    Eigen::MatrixXcd from_points(Complex omega, const std::vector<Extent>& points) const;
    /// What the ports take out of the air beyond what the walls in their place would.
    Eigen::MatrixXcd admittance(Complex omega) const;
    /// The impedance of so much more air in each port, `depth` deep [m].
    Eigen::VectorXcd inertia(Complex omega, double depth) const;

  private:
    std::vector<Extent> extents_of(const std::vector<int>& members) const;

    const Room& room_;
    const Air& air_;
    std::vector<Port> ports_;
    std::vector<InWall> walls_;
};

}  // namespace boxroom::modal_parts
