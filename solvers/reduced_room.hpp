#pragma once
#include <Eigen/Core>
#include <array>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/pieces.hpp"
#include "solvers/free_oscillations.hpp"
#include "solvers/reduced_report.hpp"
#include "solvers/room.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

struct ReducedModel;

/// Any room by elements and a reduced basis: some full solutions once, then one small system a
/// frequency (see ElementSolver, ReducedBasis). Nearer than 0.5 m to a source its field is steeper
/// than the elements: levels there are up to 3 dB off, lower still nearer than 0.1 m.
class ReducedRoom {
  public:
    /// Throws Error for rooms that elements cannot follow and for bands above 320 Hz.
    ReducedRoom(const Room& room, const Air& air, double highest_frequency);
    ~ReducedRoom();
    ReducedRoom(const ReducedRoom& other);  ///< shares the elements
    ReducedRoom& operator=(const ReducedRoom& other);
    ReducedRoom(ReducedRoom&&) noexcept;
    ReducedRoom& operator=(ReducedRoom&&) noexcept;

    /// Full solutions from those of the places that it does not know yet. Throws Error for places
    /// outside the room. Says which share of the work is done: 0 first, and nothing at the end.
    void learn(std::span<const Point> places, const std::function<void(double)>& progress = {});
    /// Three full solutions from some places of each of these rooms, of this shape with other walls
    /// and contents: what spans their fields as well. Each has frequencies between those of the
    /// others.
    void learn_as(std::span<const Room> others, std::span<const Point> places);
    /// From now on with the surfaces and contents of another room of its shape, by what it has
    /// learnt of its own: a draft, decibels off beside nulls where these are quite others.
    void be(const Room& other);
    /// The places that `transfer` learns: the receivers (the seats, so that whoever asks for them
    /// finds them known), unless they are many more than the sources.
    static std::span<const Point> learnt_for(std::span<const Point> sources,
                                             std::span<const Point> receivers);

    /// Z [Pa s/m3].
    template <typename Real>
    TransferImpedance<Real> transfer(std::span<const double> frequency,
                                     std::span<const Point> sources,
                                     std::span<const Point> receivers);
    ReducedReport report() const;
    const Room& room() const;
    const Air& air() const;

    /// The operator between the basis' functions, of whatever walls and contents it has learnt.
    const ReducedModel& model() const;
    /// Its stiffness_room by the direction of the gradients.
    std::array<Eigen::MatrixXd, 3> stiffness_along() const;
    /// What the pressure at each place is of the functions: one column a place.
    Eigen::MatrixXd seen(std::span<const Point> places) const;
    /// Fields of sources at places that were seen(), learnt or not: coefficients of the functions.
    std::vector<Eigen::MatrixXcd> fields(std::span<const double> frequency,
                                         const Eigen::MatrixXd& seen) const;

    /// Its free oscillations up to `highest` [Hz], no higher than the band; not before it has
    /// learnt a place.
    std::vector<FreeOscillation> free_oscillations(double highest) const;

    /// All that was learnt, as bytes of this machine's own order. The first `known` functions are
    /// left out: whoever takes the rest has just these.
    Pieces kept(int known = 0) const;
    /// Learnt earlier, by this room as it is now: false, and nothing has changed, if the bytes are
    /// anything else.
    bool take(std::string_view bytes);

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace boxroom
