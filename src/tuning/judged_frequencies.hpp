#pragma once
#include <optional>
#include <vector>

#include "placement/analysis_grid.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// The frequencies that a criterion looks at in a draw: up to half an octave above the band, which
/// smoothing draws in, and a point more. The ones above cost most. Further below only the reach
/// looks, at a curve that is smooth there: every 1/24 octave will do. Where the modes have more
/// points round them, those of the room as drawn have.
class JudgedFrequencies {
  public:
    explicit JudgedFrequencies(const Scenario& scenario);
    std::vector<double> of(const Room& drawn) const;

  private:
    std::vector<double> nominal_;
    Band band_;
    std::optional<NearbyGrids> grids_;
};

}  // namespace boxroom
