#include "tuning/lowest_nearby.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace boxroom {
namespace {

double dot(std::span<const double> a, std::span<const double> b) {
    return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

/// The search in units of the variables' steps.
class Descent {
  public:
    Descent(const std::function<double(std::span<const double>)>& f, std::span<const double> start,
            std::span<const SearchedVariable> variables, int most)
        : f_(f), variables_(variables), left_(most), n_(start.size()), x_(n_), inverse_(n_ * n_) {
        if (variables.size() != n_)
            throw std::length_error("one start is wanted for each variable");
        for (std::size_t i = 0; i < n_; ++i) x_[i] = start[i] / variables[i].step;
        clamp(x_);
        begin_again();
        value_ = at(x_);
    }

    std::vector<double> run() {
        std::vector<double> slope = slopes();
        while (left_ > 0) {
            const std::vector<double> before = x_;
            if (!step(slope)) {
                if (fresh_) break;  // not even down the slope
                begin_again();
                continue;
            }
            if (is_close(before)) break;
            const std::vector<double> next = slopes();
            learn(before, slope, next);
            slope = next;
        }
        std::vector<double> found(n_);
        for (std::size_t i = 0; i < n_; ++i) found[i] = x_[i] * variables_[i].step;
        return found;
    }

  private:
    double low(std::size_t i) const { return variables_[i].low / variables_[i].step; }
    double high(std::size_t i) const { return variables_[i].high / variables_[i].step; }
    void clamp(std::vector<double>& x) const {
        for (std::size_t i = 0; i < n_; ++i) x[i] = std::clamp(x[i], low(i), high(i));
    }
    double at(const std::vector<double>& x) {
        --left_;
        std::vector<double> own(n_);
        for (std::size_t i = 0; i < n_; ++i) own[i] = x[i] * variables_[i].step;
        return f_(own);
    }
    void begin_again() {
        std::ranges::fill(inverse_, 0.0);
        for (std::size_t i = 0; i < n_; ++i) inverse_[i * n_ + i] = 1;
        fresh_ = true;
    }
    std::vector<double> slopes() {
        constexpr double h = 0.02;  // of a step: far above rounding, far below a valley
        std::vector<double> slope(n_), x = x_;
        for (std::size_t i = 0; i < n_; ++i) {
            const double to = x_[i] + h <= high(i) ? h : -h;
            x[i] = x_[i] + to;
            slope[i] = (at(x) - value_) / to;
            x[i] = x_[i];
        }
        return slope;
    }
    /// Goes down, if it can; what presses against a bound stays there.
    bool step(const std::vector<double>& slope) {
        std::vector<double> free = slope, way(n_, 0.0);
        for (std::size_t i = 0; i < n_; ++i)
            if ((x_[i] <= low(i) && slope[i] > 0) || (x_[i] >= high(i) && slope[i] < 0))
                free[i] = 0;
        double longest = 0;
        for (std::size_t i = 0; i < n_; ++i) {
            if (free[i] == 0) continue;
            for (std::size_t j = 0; j < n_; ++j) way[i] -= inverse_[i * n_ + j] * free[j];
            longest = std::max(longest, std::abs(way[i]));
        }
        const double fall = dot(way, free);
        if (!(fall < 0)) return false;
        // The first step has no idea of a length but the variables' own.
        double share = fresh_ ? 1 / longest : std::min(1.0, 2 / longest);
        for (; left_ > 0 && share * longest > 1e-3; share *= 0.4) {
            std::vector<double> to = x_;
            for (std::size_t i = 0; i < n_; ++i) to[i] += share * way[i];
            clamp(to);
            const double value = at(to);
            if (value < value_ + 1e-4 * share * fall) {
                x_ = std::move(to), value_ = value;
                return true;
            }
        }
        return false;
    }
    bool is_close(const std::vector<double>& before) const {
        for (std::size_t i = 0; i < n_; ++i)
            if (std::abs(x_[i] - before[i]) * variables_[i].step > variables_[i].close)
                return false;
        return true;
    }
    void learn(const std::vector<double>& before, const std::vector<double>& slope,
               const std::vector<double>& next) {
        std::vector<double> s(n_), y(n_), hy(n_, 0.0);
        for (std::size_t i = 0; i < n_; ++i) s[i] = x_[i] - before[i], y[i] = next[i] - slope[i];
        const double sy = dot(s, y);
        if (!(sy > 1e-10)) return;
        if (fresh_)  // eq. 6.20
            for (std::size_t i = 0; i < n_; ++i) inverse_[i * n_ + i] = sy / dot(y, y);
        fresh_ = false;
        for (std::size_t i = 0; i < n_; ++i)
            for (std::size_t j = 0; j < n_; ++j) hy[i] += inverse_[i * n_ + j] * y[j];
        const double yhy = dot(y, hy);
        for (std::size_t i = 0; i < n_; ++i)
            for (std::size_t j = 0; j < n_; ++j)
                inverse_[i * n_ + j] += (1 + yhy / sy) * s[i] * s[j] / sy -
                                        (hy[i] * s[j] + s[i] * hy[j]) / sy;
    }

    const std::function<double(std::span<const double>)>& f_;
    std::span<const SearchedVariable> variables_;
    int left_;
    std::size_t n_;
    std::vector<double> x_, inverse_;
    double value_ = 0;
    bool fresh_ = true;  ///< nothing is known of the curvature yet
};

}  // namespace

std::vector<double> lowest_nearby(const std::function<double(std::span<const double>)>& f,
                                  std::span<const double> start,
                                  std::span<const SearchedVariable> variables, int most) {
    return Descent(f, start, variables, most).run();
}

}  // namespace boxroom
