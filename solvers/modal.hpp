#pragma once
#include <array>
#include <span>
#include <vector>

#include "solvers/room.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// Exact transfer impedances of a rectangular room (one axis in closed form, two summed):
/// Z = j w rho s sum_m sum_n psi_m psi_m/Lambda_m psi_n psi_n/Lambda_n G(kappa_mn), s the contents'
/// density factor. Throws Error by the rules of solvers/check_points.hpp and where no rectangle.
TransferImpedance<double> modal_transfer(const Room& room, const Air& air,
                                         std::span<const double> frequency,
                                         std::span<const Point> sources,
                                         std::span<const Point> receivers);

/// The same for many sources; coordinates that repeat among them are worked out once. The sums
/// leave out what has decayed by e^-decay, before the spreading loss: 12 is under 0.001 dB, 9 under
/// 0.01. Over many frequencies, most of what decays is summed at few of them
/// (solvers/decaying_terms), to single precision.
TransferImpedance<float> modal_transfer_many(const Room& room, const Air& air,
                                             std::span<const double> frequency,
                                             std::span<const Point> sources,
                                             std::span<const Point> receivers, double decay = 12);

/// The same in double precision, for some hundred sources.
TransferImpedance<double> modal_transfer_shared(const Room& room, const Air& air,
                                                std::span<const double> frequency,
                                                std::span<const Point> sources,
                                                std::span<const Point> receivers,
                                                double decay = 12);

struct Mode {
    std::array<int, 3> order{};
    double frequency = 0;   ///< of the damped free oscillation [Hz]
    double decay_time = 0;  ///< 60 dB [s]
    double q = 0;
    bool next_door = false;  ///< most of it swings in the spaces that openings lead to
};
/// Free oscillations of the damped room up to `highest` Hz, sorted by frequency: with its walls and
/// contents, its openings shut. w^2 s(w) = c^2 sum_a q_a^2(w), each followed from the rigid room's.
/// Throws Error for a room that is no rectangle. With its openings: solvers/free_oscillations.hpp.
std::vector<Mode> room_modes(const Room& room, const Air& air, double highest);
/// The one that grows out of the rigid room's mode of this order (not the zero one).
Mode room_mode(const Room& room, const Air& air, const std::array<int, 3>& order);

}  // namespace boxroom
