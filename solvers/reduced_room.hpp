#pragma once
#include <memory>
#include <span>

#include "solvers/room.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// What a reduced room is made of, and how far it may be off.
struct ReducedReport {
    int unknowns = 0;      ///< of the elements
    int functions = 0;     ///< of the basis
    double change_db = 0;  ///< by which the last full solutions still moved a level, at most (nulls
                           ///< 15 dB under the median left out): what is left is less
};

/// Any room by elements and a reduced basis: some full solutions once, then one small system a
/// frequency (see ElementSolver, ReducedBasis). Sources must be 0.3 m away from receivers: nearer
/// by, the field of a point is steeper than the elements.
class ReducedRoom {
  public:
    /// Throws Error for rooms that elements cannot follow and for bands above 320 Hz.
    ReducedRoom(const Room& room, const Air& air, double highest_frequency);
    ~ReducedRoom();
    ReducedRoom(ReducedRoom&&) noexcept;
    ReducedRoom& operator=(ReducedRoom&&) noexcept;

    /// Z [Pa s/m3]. The basis learns the places on the side with fewer of them, where it does not
    /// know them yet. Throws Error for places outside the room.
    template <typename Real>
    TransferImpedance<Real> transfer(std::span<const double> frequency,
                                     std::span<const Point> sources,
                                     std::span<const Point> receivers);
    ReducedReport report() const;

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace boxroom
