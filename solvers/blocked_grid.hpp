#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <array>
#include <span>
#include <utility>
#include <vector>

#include "solvers/room.hpp"

namespace boxroom {

/// Six walls and the block, as surface_walls has them.
inline constexpr int walls_and_block = 7;

/// K, M and B of each surface over the nodes (see OperatorScales); M and B have entries on their
/// diagonals alone.
struct BlockedOperator {
    Eigen::SparseMatrix<double> stiffness;
    Eigen::VectorXd mass;
    std::array<std::vector<std::pair<int, double>>, walls_and_block> wall;  ///< node, entry
};

/// Elements of a rectangle with one block, their faces on the block's, by Gauss and Lobatto's
/// points: the pressure at the nodes is the unknown, and the nodes are the points of the integrals,
/// so that the mass is lumped (Cohen, Higher-Order Numerical Methods for Transient Wave Equations,
/// 2002, ch. 11; from memory). The nodes move with the walls and the block's faces.
class BlockedGrid {
  public:
    /// `room` has one block, a rectangle's floor and no openings. `highest` [Hz].
    BlockedGrid(const Room& room, double highest, int more_degrees);

    int unknowns() const { return unknowns_; }
    /// Of a room whose block touches the same walls.
    BlockedOperator operator_of(const Room& room) const;
    /// What the pressure at each place is of the unknowns: one column a place. Places in the block
    /// are taken to be on it.
    Eigen::MatrixXd point_values(const Room& room, std::span<const Point> places) const;
    /// Where the nodes of each axis are [m].
    std::array<std::vector<double>, 3> node_places(const Room& room) const;
    /// f(x) g(y) h(z) at every unknown's node, from their values at the axes' nodes.
    Eigen::VectorXd product(const std::array<Eigen::VectorXd, 3>& along) const;

  private:
    /// One axis: elements before the block, beside it and beyond it.
    struct Axis {
        std::vector<int> part, degree;  ///< of each element
        std::array<int, 3> count{};     ///< elements of each part
        int nodes = 1;
    };
    using Triple = std::array<int, 3>;
    /// Where the elements of each axis end in one room.
    using Ends = std::array<std::vector<double>, 3>;

    Ends ends_in(const Room& room) const;
    bool solid(const Triple& element) const;
    std::size_t grid_node(const Triple& at) const;
    int first_node(int axis, int element) const;
    template <typename Body>
    void for_each_element(const Body& body) const;
    template <typename Body>
    void for_each_node(const Triple& element, const Body& body) const;
    void number_nodes();
    void add_element(const Ends& ends, const Triple& element, BlockedOperator& out,
                     std::vector<Eigen::Triplet<double>>& entries,
                     std::array<Eigen::VectorXd, walls_and_block>& wall) const;
    Triple element_at(const Ends& ends, std::array<double, 3>& at) const;

    std::array<Axis, 3> axis_;
    std::vector<int> number_;  ///< of each node of the whole grid; -1: in the block
    int unknowns_ = 0;
};

}  // namespace boxroom
