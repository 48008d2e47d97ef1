#pragma once
#include <Eigen/Core>
#include <array>
#include <complex>
#include <span>
#include <vector>

#include "solvers/reduced_model.hpp"
#include "solvers/reduced_room.hpp"

namespace boxroom {

/// A room as it may be: walls, contents, sides and places that differ a little from what is
/// believed.
struct RoomVariant {
    Room room;
    std::vector<Point> sources, receivers;
    double sound = 1;  ///< factor on the speed of sound
};

/// Many variants of a room by elements at the same frequencies. For each few neighbouring
/// frequencies the fields of some examples span those of all others (proper orthogonal
/// decomposition: Quarteroni, Manzoni & Negri 2016, ch. 6); what is left of the operator is so
/// small that a variant takes a millisecond a frequency and less, many at a time in the lanes of
/// vectors. A room of other sides, with all corners where stretched() has them, is solved in the
/// coordinates of the room that was learnt: there the stiffness along an axis goes with the square
/// of its factor less, and all integrals with the product of the three (change of variables; a
/// surface's area with its power of 2/3, whichever way the surface faces; spaces next door as if
/// all factors were their mean).
class VariedRoom {
  public:
    static constexpr int together = 16;  ///< variants that are best solved at once

    /// `room` has learnt other walls and contents (learn_as). `frequency` [Hz] rises; `examples`
    /// are as unlike as the variants may be: a dozen, with places that are spread as theirs.
    VariedRoom(ReducedRoom room, const Air& air, std::span<const double> frequency,
               std::span<const RoomVariant> examples);

    /// Z [Pa s/m3] of each variant, at all frequencies. Best `together` at a time, on all threads;
    /// any thread may.
    /// Throws Error for places outside the room, std::length_error where one has more of them than
    /// another.
    std::vector<TransferImpedance<float>> transfer(std::span<const RoomVariant> variants) const;

  private:
    Air air_of(const RoomVariant& variant) const;
    /// The operator at some neighbouring frequencies, first .. first + count - 1.
    struct Narrow {
        std::size_t first = 0, count = 0;
        Eigen::MatrixXd functions;  ///< of the room's: one column each
        std::vector<double> part;   ///< as VariedSystems has it
    };
    std::vector<const Eigen::MatrixXd*> parts() const;
    std::vector<std::complex<double>> scales(const RoomVariant& variant, double frequency) const;
    Eigen::MatrixXd example_fields(double frequency, std::size_t from,
                                   std::span<const RoomVariant> examples,
                                   std::span<const Eigen::MatrixXd> load) const;
    Narrow narrow(std::size_t first, std::span<const Eigen::MatrixXd> solved) const;
    std::vector<Point> places_of(const RoomVariant& variant) const;

    void set_scales(std::span<const RoomVariant> some, double frequency, std::vector<double>& re,
                    std::vector<double>& im) const;
    /// Lanes of one column side by side.
    using Lanes = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    Lanes seen_in_lanes(std::span<const RoomVariant> some) const;
    void solve(const Narrow& narrow, std::span<const RoomVariant> some, const Lanes& seen,
               TransferImpedance<float>* to) const;

    ReducedRoom room_;
    Air air_;
    std::vector<double> frequency_;
    std::vector<std::size_t> walls_;        ///< surfaces that the air touches
    std::array<Eigen::MatrixXd, 3> along_;  ///< stiffness of the room by axis
    std::vector<Narrow> narrow_;
};

}  // namespace boxroom
