#pragma once
#include <complex>
#include <functional>
#include <span>

#include "solvers/grid.hpp"
#include "solvers/grid_field.hpp"
#include "solvers/grid_probe.hpp"

namespace boxroom {

/// The frequency of the scheme, 2 pi f' [rad/s], at which it has the wavelength c/f on average over
/// all directions; see grid_transfer.
double grid_omega(const GridShape& shape, Stencil stencil, const Air& air, double time_step,
                  double frequency);

/// A smooth pulse of dU/dt without any net flow or net volume: the second difference of a Gaussian
/// with sigma = 1.9/w of the highest frequency. Above three times that frequency it is gone (less
/// than 1e-5), so that samples may be taken slowly.
class GridPulse {
  public:
    GridPulse(double highest_frequency, double time_step);
    double at(std::size_t step) const { return step < value_.size() ? value_[step] : 0.0; }
    std::size_t length() const { return value_.size(); }
    std::complex<double> spectrum(double omega) const;  ///< sum_n g_n e^{-j w n T}

  private:
    double time_step_;
    std::vector<double> value_;
};

/// Called with the run (index of `from`), the point (index of `to`), the frequency and Z.
using GridSink = std::function<void(std::size_t, std::size_t, std::size_t, std::complex<double>)>;

/// One run for every point of `from`, listening at all of `to`. As many runs at a time as there are
/// threads; what is left over shares the threads run by run.
template <typename Real>
void run_grid(const GridShape& shape, const GridNodes& nodes, const Air& air,
              std::span<const double> frequency, std::span<const Point> from,
              std::span<const Point> to, const GridOptions& options, GridReport& report,
              const GridSink& sink);

}  // namespace boxroom
