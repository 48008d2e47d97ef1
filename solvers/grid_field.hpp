#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "base/air.hpp"
#include "solvers/grid_shape.hpp"

namespace boxroom {

/// The sound field on a grid: seven-point leapfrog in the air, one difference equation a branch at
/// the walls.
///
/// With V the dual volume of a node, A/h its links, S its patches of wall, v_b the outward velocity
/// of branch b and g = rho dU/dt the source,
///   V/c^2 d_tt p = sum_links A/h (p_neighbour - p) - rho sum_S,b S d_t v_b + g,
///   M d_tt v_b + R d_t v_b + K m_tt v_b = d_t p,
/// where d_tt, d_t are centred differences over one and two steps and m_tt v = (v+ + 2v + v-)/4
/// (finite volumes as in Bilbao, Hamilton, Botts & Savioja, IEEE/ACM Trans. Audio 24, 2016; walls
/// by the bilinear transform as in Kowalczyk & van Walstijn, IEEE Trans. Audio 19, 2011).
/// Multiplied by d_t p and d_t v_b the sum is a balance of energy: energy() falls by rho S R
/// (d_t v)^2 a step and never rises, for every R, M, K >= 0 as long as c T sqrt(sum 1/h^2) <= 1.
template <typename Real>
class GridField {
  public:
    GridField(const GridShape& shape, const GridNodes& nodes, const Air& air, double time_step);

    /// A node that a source feeds and how much of it [adds up to one over the source's nodes].
    struct Feed {
        std::size_t node;
        double share;
    };
    void set_source(const std::vector<Feed>& feeds);

    /// One time step in `parts` parts that may run at the same time; then finish_step(g).
    void update(int part, int parts);
    void finish_step(double source);

    Real pressure(std::size_t node) const { return now()[node]; }
    const Real* now() const { return pressure_[current_].data() + margin_; }
    const Real* before() const { return pressure_[1 - current_].data() + margin_; }
    /// Sets the present and the last pressure of a node (for tests of the scheme).
    void set(std::size_t node, Real present, Real last);
    /// [m s^-2 Pa^2 s^2...] up to a constant factor an energy; see above.
    double energy() const;
    std::size_t bytes() const;

  private:
    struct Branch {
        Real alpha, beta_mass, beta_spring;  ///< y = alpha (p+ - p-) + beta_mass a - beta_spring b
        Real force;                          ///< rho S/(2T)/(D + kappa)
        double area, mass, stiffness;
        bool has_mass, has_spring;
    };
    struct Kind {
        Real centre, last;
        std::array<Real, 6> link;
        double inverse;  ///< 1/(D + kappa)
        double volume;
        std::array<double, 6> plain_link;
        std::vector<Branch> branches;  ///< those with a memory
        bool uniform = false;          ///< opposite links alike, no wall
    };
    /// Neighbours along x of one kind.
    struct Run {
        std::size_t first;
        int count, kind;
        std::size_t state;  ///< first state of branch 0; branch b follows at + 2 b count
    };
    void update_air(const Run& run);
    void update_wall(const Run& run);

    Air air_;
    double time_step_;
    std::ptrdiff_t stride_[3];
    std::size_t margin_;
    std::vector<Real> pressure_[2];
    int current_ = 0;
    std::vector<Kind> kinds_;
    std::vector<Run> runs_;
    std::vector<std::size_t> work_;  ///< running sum of the cost of runs_
    std::vector<Real> state_;
    struct Drive {
        std::size_t node;
        double gain;
        std::vector<std::pair<std::size_t, double>> states;  ///< and what they take of it
    };
    std::vector<Drive> drives_;
};

}  // namespace boxroom
