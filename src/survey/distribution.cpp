#include "survey/distribution.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <span>

namespace boxroom {
namespace {

double polynomial(std::span<const double> coefficients, double x) {
    double sum = 0;
    for (std::size_t n = coefficients.size(); n-- > 0;) sum = sum * x + coefficients[n];
    return sum;
}

// Wichura's coefficients: the middle, and the tails nearer to and further from it.
constexpr double middle_above[] = {3.3871328727963666080e0,  1.3314166789178437745e+2,
                                   1.9715909503065514427e+3, 1.3731693765509461125e+4,
                                   4.5921953931549871457e+4, 6.7265770927008700853e+4,
                                   3.3430575583588128105e+4, 2.5090809287301226727e+3};
constexpr double middle_below[] = {1.0,
                                   4.2313330701600911252e+1,
                                   6.8718700749205790830e+2,
                                   5.3941960214247511077e+3,
                                   2.1213794301586595867e+4,
                                   3.9307895800092710610e+4,
                                   2.8729085735721942674e+4,
                                   5.2264952788528545610e+3};
constexpr double tail_above[] = {1.42343711074968357734e0,  4.63033784615654529590e0,
                                 5.76949722146069140550e0,  3.64784832476320460504e0,
                                 1.27045825245236838258e0,  2.41780725177450611770e-1,
                                 2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr double tail_below[] = {1.0,
                                 2.05319162663775882187e0,
                                 1.67638483018380384940e0,
                                 6.89767334985100004550e-1,
                                 1.48103976427480074590e-1,
                                 1.51986665636164571966e-2,
                                 5.47593808499534494600e-4,
                                 1.05075007164441684324e-9};
constexpr double far_above[] = {6.65790464350110377720e0,  5.46378491116411436990e0,
                                1.78482653991729133580e0,  2.96560571828504891230e-1,
                                2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr double far_below[] = {1.0,
                                5.99832206555887937690e-1,
                                1.36929880922735805310e-1,
                                1.48753612908506148525e-2,
                                7.86869131145613259100e-4,
                                1.84631831751005468180e-5,
                                1.42151175831644588870e-7,
                                2.04426310338993978564e-15};

double fraction(std::span<const double> above, std::span<const double> below, double x) {
    return polynomial(above, x) / polynomial(below, x);
}

}  // namespace

double normal_quantile(double p) {
    const double q = p - 0.5;
    if (std::abs(q) <= 0.425) return q * fraction(middle_above, middle_below, 0.180625 - q * q);
    const double r = std::sqrt(-std::log(q < 0 ? p : 1 - p));
    const double z =
        r <= 5 ? fraction(tail_above, tail_below, r - 1.6) : fraction(far_above, far_below, r - 5);
    return q < 0 ? -z : z;
}

double normal_probability(double z) {
    return std::erfc(-z / std::numbers::sqrt2) / 2;
}

namespace {

/// Where a number of the distribution lies on the standard normal one.
double standard(const Distribution& d, double value) {
    if (d.kind == Distribution::Kind::normal) return (value - d.first) / d.second;
    return value > 0 ? std::log(value / d.first) / std::log(d.second) : -HUGE_VAL;
}

}  // namespace

double Distribution::share_within() const {
    if (kind != Kind::normal && kind != Kind::log_normal) return 1;
    return normal_probability(standard(*this, high)) - normal_probability(standard(*this, low));
}

double Distribution::quantile(double p) const {
    switch (kind) {
        case Kind::fixed:
            return first;
        case Kind::uniform:
            return first + p * (second - first);
        case Kind::choice:
            return values[choice_at(weights, p)];
        case Kind::normal:
        case Kind::log_normal:
            break;
    }
    const double below = normal_probability(standard(*this, low));
    const double z = normal_quantile(below + p * share_within());
    const double value =
        kind == Kind::normal ? first + second * z : first * std::exp(std::log(second) * z);
    return std::clamp(value, low, high);
}

double Distribution::greatest() const {
    switch (kind) {
        case Kind::choice:
            return *std::ranges::max_element(values);
        case Kind::fixed:
            return first;
        case Kind::uniform:
            return second;
        default:
            return high;
    }
}

std::size_t choice_at(const std::vector<double>& weights, double p) {
    const double wanted = p * std::accumulate(weights.begin(), weights.end(), 0.0);
    double sum = 0;
    std::size_t last = 0;
    for (std::size_t n = 0; n < weights.size(); ++n) {
        if (weights[n] > 0) last = n;
        sum += weights[n];
        if (wanted < sum) return n;
    }
    return last;
}

}  // namespace boxroom
