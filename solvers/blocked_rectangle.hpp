#pragma once
#include <Eigen/Core>
#include <span>
#include <vector>

#include "solvers/blocked_grid.hpp"
#include "solvers/varied_room.hpp"

namespace boxroom {

/// Whether walls and block of two rooms with one block each stand alike, to the last digit.
bool same_shape(const Room& a, const Room& b);

/// A rectangle with one block in it, for a search: solved anew in a tenth of a second wherever the
/// block stands, and for small changes of everything in a few hundredths.
///
/// The rectangle's own modes with one step of inverse iteration on BlockedGrid (Bathe & Wilson,
/// Numerical Methods in Finite Element Analysis, 1976, ch. 12; from memory) give those of the room
/// with its block. What the modes above leave out is made good by the static fields of the places
/// (residual vectors: MacNeal, Computers & Structures 1, 1971; from memory). These functions move
/// with the block's faces and the walls.
class BlockedRectangle {
  public:
    /// `room` has one block, a rectangle's floor and no openings. `highest` [Hz]. `places`: sources
    /// above all, whose own fields shall be among the functions. `more_degrees` -1: a fifth of the
    /// time, and 1 dB off.
    BlockedRectangle(const Room& room, const Air& air, double highest,
                     std::span<const Point> places, int more_degrees = 0);

    /// Z [Pa s/m3] of rooms alike, whose sides, block, walls, contents and places differ a little.
    /// Places in the block are taken to be on it. Any thread may.
    std::vector<TransferImpedance<double>> transfer(std::span<const RoomVariant> variants,
                                                    std::span<const double> frequency) const;
    int unknowns() const { return grid_.unknowns(); }
    Eigen::Index functions() const { return functions_.cols(); }

  private:
    std::vector<double> parts_in(const Room& room) const;
    void solve(const RoomVariant& variant, const std::vector<double>& part,
               const Eigen::MatrixXd& seen, std::span<const double> frequency, std::size_t first,
               TransferImpedance<double>& to) const;

    Air air_;
    BlockedGrid grid_;
    Eigen::MatrixXd functions_;  ///< unknowns x size
};

}  // namespace boxroom
