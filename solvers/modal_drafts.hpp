#pragma once
#include "solvers/modal.hpp"

namespace boxroom {

/// modal_transfer_many for many rooms that are much alike, quicker where walls resonate: what
/// decays from a source to a receiver at all of the frequencies (rising) is summed at six of them
/// an octave, with cubics in ln f between. Where no wall has a sharp resonance that is off by 1e-4
/// of the mean or less, which is for the caller to try in a few of the rooms.
TransferImpedance<float> modal_transfer_draft(const Room& room, const Air& air,
                                              std::span<const double> frequency,
                                              std::span<const Point> sources,
                                              std::span<const Point> receivers, double decay = 12);

/// A mode to first order in the walls and contents: the rigid room's frequency, and the decay that
/// the walls' resistance gives it there (Morse & Ingard 1968, ch. 9).
Mode first_order_mode(const Room& room, const Air& air, const std::array<int, 3>& order);

}  // namespace boxroom
