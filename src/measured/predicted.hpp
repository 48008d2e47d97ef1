#pragma once
#include <complex>
#include <vector>

#include "measured/recordings.hpp"
#include "placement/scenario.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// What the model says that these recordings should be: the pressure [Pa] for each recording and
/// frequency of the scenario's grid, at 2.83 V. Of one sub or of all together as the file dials
/// them; with the box on a seat, of the file's box there.
using Pressures = std::vector<std::vector<std::complex<double>>>;
Pressures predicted_pressures(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                              const std::vector<Recording>& recordings);
/// The same from a room that is solved already: Z from each of sources_of_recordings() to each
/// recording's place.
Pressures predicted_pressures(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                              const std::vector<Recording>& recordings,
                              const TransferImpedance<double>& z);
/// Their levels [dB], in the units of Listening::level_db.
std::vector<std::vector<double>> levels_of(const Pressures& pressures);
/// The scenario's subs, then a box on its seat for each recording of one.
std::vector<PlacedSub> sources_of_recordings(const Scenario& scenario,
                                             const std::vector<Recording>& recordings);

}  // namespace boxroom
