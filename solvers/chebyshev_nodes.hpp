#pragma once
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace boxroom {

/// Chebyshev's points of the first kind on an interval, low + (1 + cos((2 n + 1) pi/2N)) width/2,
/// and the polynomial through values at them. Of a function that is analytic inside an ellipse with
/// foci at the interval's ends it is off by rho^-N, rho the sum of the ellipse's semi-axes over
/// half the width (Trefethen, Approximation Theory and Approximation Practice, 2013, ch. 8).
class ChebyshevNodes {
  public:
    ChebyshevNodes(double low, double high, std::size_t count) {
        for (std::size_t n = 0; n < count; ++n) {
            const double angle =
                static_cast<double>(2 * n + 1) * std::numbers::pi / static_cast<double>(2 * count);
            at_.push_back((low + high) / 2 + (high - low) / 2 * std::cos(angle));
            side_.push_back((n % 2 == 0 ? 1 : -1) * std::sin(angle));
        }
    }
    std::size_t size() const { return at_.size(); }
    double at(std::size_t n) const { return at_[n]; }

    /// What the value at each node counts for at x, by the barycentric formula (Berrut & Trefethen,
    /// SIAM Review 46(3), 2004).
    std::vector<double> weights(double x) const {
        std::vector<double> weight(size(), 0.0);
        double sum = 0;
        for (std::size_t n = 0; n < size(); ++n) {
            if (x == at_[n]) {
                weight.assign(size(), 0.0);
                weight[n] = 1;
                return weight;
            }
            sum += weight[n] = side_[n] / (x - at_[n]);
        }
        for (double& w : weight) w /= sum;
        return weight;
    }

  private:
    std::vector<double> at_, side_;
};

}  // namespace boxroom
