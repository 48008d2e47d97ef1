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

    /// Takes sample number taken() of the points of this part from the field.
    void sample(const Real* field, int part, int parts);
    void finish_sample();  ///< once all parts have been served
    void flush();          ///< before value(): counts the samples of a block that is not yet full

    std::complex<double> value(std::size_t point, std::size_t frequency) const {
        return {sum_(point, 2 * frequency), sum_(point, 2 * frequency + 1)};
    }
    std::size_t taken() const { return taken_; }
    std::size_t points() const { return first_.size() - 1; }
    std::size_t frequencies() const { return phase_.size(); }
    std::size_t bytes() const;

  private:
    using Matrix = Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic>;
    static constexpr int block = 64;
    void add(int first, int count);
    void make_table(std::size_t start);

    std::vector<double> phase_;       ///< w D T
    std::vector<std::size_t> first_;  ///< of each point in node_ and weight_
    std::vector<std::uint32_t> node_;
    std::vector<Real> weight_;
    Matrix samples_;  ///< (points, block)
    Matrix table_;    ///< (block, 2 frequencies)
    Eigen::MatrixXd sum_;
    std::size_t taken_ = 0;
    int filled_ = 0;
};

}  // namespace boxroom
