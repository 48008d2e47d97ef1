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

/// Weights of a mean over log-frequency on the points of `frequency` inside `band` (zero outside),
/// by the trapezoidal rule in ln f from the first of them to the last; they sum to one. One point
/// alone counts fully. Throws Error if no point lies in the band.
std::vector<double> log_mean_weights(std::span<const double> frequency, const Band& band);

/// Power-averages `power` (any unit) over a window of 1/n octave centred at each point: the
/// integral over ln f of what runs straight from point to point, divided by the width, clipped to
/// the data at the ends. Same length as the input; the points may lie as unevenly as they like.
class OctaveSmoother {
  public:
    OctaveSmoother(std::span<const double> frequency, double octaves);
    /// in and out may not overlap; both of length size().
    void operator()(std::span<const double> power, std::span<double> out) const;
    /// The points from `first` to before `end` alone: out[0] is the first of them.
    void smooth(std::span<const double> power, std::size_t first, std::size_t end,
                std::span<double> out) const;
    /// The same from sum[n], the running sum of cell x power before each point n, for several
    /// smoothers of the same frequencies: running_sum() over all that their windows reach.
    void smooth(std::span<const double> power, std::span<const double> sum, std::size_t first,
                std::size_t end, std::span<double> out) const;
    /// sum[n] for n = from .. to, which begins with zero.
    void running_sum(std::span<const double> power, std::size_t from, std::size_t to,
                     std::span<double> sum) const;
    std::size_t size() const { return window_.size(); }

    /// What one point averages over: the sum of weight x power, divided by `width`. The window
    /// begins between the points low and low + 1 and ends between high and high + 1; those four
    /// have a weight of their own, the points from low + 2 to high - 1 their cell(). Where it is so
    /// narrow that they meet, the weight of a point stands with `low`.
    struct Window {
        int low, high;
        double low_here, low_next, high_here, high_next;
        double width;  ///< in ln f
    };
    const Window& window(std::size_t point) const { return window_[point]; }
    /// Half the way to both neighbours, in ln f.
    double cell(std::size_t point) const { return cell_[point]; }

  private:
    std::vector<double> cell_;
    std::vector<Window> window_;
};

}  // namespace boxroom
