#pragma once
#include <Eigen/Core>
#include <complex>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include "solvers/grid_shape.hpp"

namespace boxroom {

/// The nodes around a point and their weights: cubic along each axis (error of fourth order) where
/// the four by four by four nodes have nothing but air between them, else linear in the point's own
/// cell (second order). A point that the grid's outline leaves outside moves to the nearest air.
std::vector<std::pair<std::size_t, double>> interpolation(const GridShape& shape,
                                                          const GridNodes& nodes,
                                                          const Point& point);

/// sum_m p(m D T) e^{-j w m D T} at many points and frequencies while p runs by.
///
/// Samples are kept until there is a block of them, then multiplied by a table of e^{-jwt}: the
/// work is that of a matrix product. Rows are points; parts of them may be served at the same time.
template <typename Real>
class RunningTransform {
  public:
    RunningTransform(const GridShape& shape, const GridNodes& nodes, std::span<const Point> points,
                     std::vector<double> phase_per_sample);

    /// Takes sample number m of the points of this part from the field.
    void sample(const Real* field, std::size_t m, int part, int parts);
    /// Brings value() up to date with `taken` samples; no part may be at work.
    void flush(std::size_t taken);

    std::complex<double> value(std::size_t point, std::size_t frequency) const {
        const auto p = static_cast<Eigen::Index>(point), f = static_cast<Eigen::Index>(frequency);
        return {sum_(p, 2 * f), sum_(p, 2 * f + 1)};
    }
    std::size_t points() const { return first_.size() - 1; }

  private:
    using Matrix = Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic>;
    static constexpr int block = 128;
    /// Points that are transformed together. Always the same ones, since a matrix product rounds
    /// its last rows otherwise: so the answer does not depend on the number of threads.
    static constexpr int chunk = 64;
    void add(int first, int count, std::size_t start, int from, int to);
    void add_chunk(int first, int count, std::size_t start, int from, int to);

    std::vector<double> phase_;       ///< w D T
    std::vector<std::size_t> first_;  ///< of each point in node_ and weight_
    std::vector<std::uint32_t> node_;
    std::vector<Real> weight_;
    Matrix samples_;  ///< (points, block)
    Matrix table_;    ///< (block, 2 frequencies): cos and -sin of the block that starts at 0
    Eigen::MatrixXd sum_;
    std::size_t counted_ = 0;  ///< samples of the block under way that flush() has counted
};

}  // namespace boxroom
