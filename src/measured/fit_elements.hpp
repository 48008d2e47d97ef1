#pragma once
#include <span>
#include <vector>

#include "measured/fit_parameters.hpp"
#include "solvers/varied_room.hpp"

namespace boxroom {

/// Where a microphone could stand next: a grid over the room at ear height, for each sub.
std::vector<Recording> next_places(const Scenario& scenario);

/// A room that is no rectangle, by elements, for all values that a fit may try: surfaces, contents,
/// sides, speed of sound and places. What spans the fields learns the room with all surfaces at
/// either end of their doubt, and states drawn from the priors (solvers/varied_room).
class FitElements {
  public:
    FitElements(const Scenario& scenario, const FitParameters& parameters,
                const std::vector<Recording>& recordings, std::span<const double> frequency);

    /// Z [Pa s/m3] of each state, from sources_of_recordings() to its recordings; all states have
    /// as many of them. Any thread may.
    std::vector<TransferImpedance<double>> transfer(std::span<const FitState> states) const;

  private:
    double sound_;  ///< speed of sound in the file [m/s]
    VariedRoom room_;
};

}  // namespace boxroom
