#pragma once
#include <complex>
#include <functional>
#include <vector>

#include "solvers/modal.hpp"
#include "solvers/room_solver.hpp"

namespace boxroom {

/// A mode of any room as it answers a steady tone: its own term of the room's sum at its own
/// frequency, where it peaks, Z_N = transfer shape(source) shape(receiver) [Pa s/m3]. In a
/// rectangle see ModeShape; by elements it is the pole's part j w rho v v^T/(v^T A' v (w - w_N)).
struct FreeOscillation {
    Mode mode;  ///< no order where the floor is no rectangle: there is none
    std::function<std::complex<double>(const Point&)> shape;
    std::complex<double> transfer;
    double square_everywhere = 0;  ///< integral of |shape|^2 over all air, by elements alone [m3]
};

/// Whether a solver knows them: in a closed rectangle by formulas, in any other room by elements,
/// where something keeps what they have solved.
bool knows_free_oscillations(const Room& room, const SolverSettings& settings);

/// Up to `highest` [Hz], sorted by frequency. Throws Error where none are known.
std::vector<FreeOscillation> free_oscillations(const Room& room, const Air& air, double highest,
                                               const SolverSettings& settings);

}  // namespace boxroom
