#pragma once
#include <span>
#include <vector>

namespace boxroom {

struct Band {
    double low = 10, high = 200;  ///< [Hz], both ends included
    bool contains(double f) const { return f >= low * (1 - 1e-9) && f <= high * (1 + 1e-9); }
};

/// f_i = low 2^(i / per_octave) up to high [Hz].
std::vector<double> logarithmic_grid(const Band& band, int per_octave);

/// Weights of a mean over log-frequency on the points of `frequency` inside `band` (zero outside);
/// they sum to one. A point stands for the cell between the midpoints to its neighbours in ln f,
/// the first and last for a cell as wide as the step beside them: on an even logarithmic grid that
/// is the plain mean. Throws Error if no point lies in the band.
std::vector<double> log_mean_weights(std::span<const double> frequency, const Band& band);

/// Power-averages `power` (any unit) over a window of 1/n octave centred at each point:
/// integral over ln f of the piecewise constant function on the cells above, divided by the width,
/// clipped to the data at the ends. Same length as the input.
class OctaveSmoother {
  public:
    OctaveSmoother(std::span<const double> frequency, double octaves);
    /// in and out may not overlap; both of length size().
    void operator()(std::span<const double> power, std::span<double> out) const;
    std::size_t size() const { return edge_.empty() ? 0 : edge_.size() - 1; }

    /// What one point averages over: the cells first .. last, of which the two at the ends count by
    /// a share; widths in ln f.
    struct Window {
        int first, last;
        double first_share, last_share, width;
    };
    const Window& window(std::size_t point) const { return window_[point]; }
    double cell_width(std::size_t point) const { return edge_[point + 1] - edge_[point]; }

  private:
    std::vector<double> edge_;  ///< cell edges, ln f
    std::vector<Window> window_;
};

}  // namespace boxroom
