#pragma once
#include <vector>

namespace boxroom {

/// Quantile of the standard normal distribution, 0 < p < 1: Wichura's algorithm AS 241 (PPND16),
/// Applied Statistics 37, 1988, about 1 part in 10^16.
double normal_quantile(double p);
/// Its distribution function, erfc(-z/sqrt(2))/2.
double normal_probability(double z);

/// How a number is spread over rooms, drawn by inversion: the same probability gives the same
/// number, and normal probabilities that belong together make numbers that do.
struct Distribution {
    enum class Kind {
        fixed,       ///< always `first`
        uniform,     ///< from `first` to `second`
        normal,      ///< mean, standard deviation
        log_normal,  ///< median, and the factor that one standard deviation is
        choice,      ///< one of `values`, as often as its weight says
    } kind = Kind::fixed;
    double first = 0, second = 0;
    /// What a normal or log-normal number keeps within: the distribution is cut there.
    double low = 0, high = 0;
    std::vector<double> values, weights;

    /// The number of which the share `p` of all lies below, 0 < p < 1.
    double quantile(double p) const;
    /// The share of the uncut distribution that lies within low and high; 1 where nothing is cut.
    double share_within() const;
    /// The greatest number there may be.
    double greatest() const;
};

/// Which of several, with these weights (not all 0), the probability p points at.
std::size_t choice_at(const std::vector<double>& weights, double p);

}  // namespace boxroom
