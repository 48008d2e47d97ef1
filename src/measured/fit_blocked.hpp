#pragma once
#include <memory>
#include <span>
#include <vector>

#include "measured/fit_parameters.hpp"
#include "solvers/blocked_rectangle.hpp"

namespace boxroom {

/// A rectangle with furniture that the fit moves about, for many states near one of them.
class FitBlocked {
  public:
    /// Of the states near this one. `more_degrees` as BlockedRectangle has it.
    FitBlocked(const FitState& near, const Air& air, std::span<const double> frequency,
               int more_degrees = 0);

    /// Whether walls and furniture of a state stand where those of `near` do.
    bool stands_as(const FitState& state) const;
    /// Z [Pa s/m3] of each state, from sources_of_recordings() to its recordings; all states have
    /// as many of them.
    std::vector<TransferImpedance<double>> transfer(std::span<const FitState> states) const;

  private:
    Room near_;
    double sound_;  ///< speed of sound in the file [m/s]
    std::vector<double> frequency_;
    BlockedRectangle room_;
};

}  // namespace boxroom
