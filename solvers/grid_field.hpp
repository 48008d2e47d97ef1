#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "base/air.hpp"
#include "solvers/grid_shape.hpp"

namespace boxroom {

/// The sound field on a grid: leapfrog in the air, one difference equation a branch at
/// the walls.
///
/// With V the dual volume of a node, A/h its links, S its patches of wall, v_b the outward velocity
/// of branch b and g = rho dU/dt the source,
///   V/c^2 d_tt p = sum_links A/h (p_neighbour - p) - rho sum_S,b S d_t v_b + g,
///   M d_tt v_b + R d_t v_b + K m_tt v_b = d_t p,
/// where d_tt, d_t are centred differences over one and two steps and m_tt v = (v+ + 2v + v-)/4
/// (finite volumes as in Bilbao, Hamilton, Botts & Savioja, IEEE/ACM Trans. Audio 24, 2016; walls
/// by the bilinear transform as in Kowalczyk & van Walstijn, IEEE Trans. Audio 19, 2011).
/// Multiplied by d_t p and d_t v_b the sum is a balance of energy: energy() falls by T rho S
/// R (d_t v)^2 a step and never rises, for every R, M, K >= 0, up to longest_time_step().
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

    /// Step number `step` in `parts` parts, which may run at the same time but must all be over
    /// before the next step. The source has the value `source`.
    void update(std::size_t step, int part, int parts, double source);

    /// The pressures after `steps` steps, by node.
    const Real* after(std::size_t steps) const { return pressure_[steps & 1].data() + margin_; }
    /// Sets the pressure of a node at the start and a step before (for tests of the scheme).
    void set(std::size_t node, Real start, Real before);
    /// Half the sum of squares in the balance above, after `steps` steps [Pa2 m].
    double energy(std::size_t steps) const;
    std::size_t bytes() const;

    /// True if no air can leak: walls are rigid or held by springs.
    bool sealed() const { return sealed_; }
    /// Takes out what rounding has added to the net flow of a sealed room. The sum of the balance
    /// over all nodes, sum V/c^2 d_t- p + rho sum S v, changes by the source alone and is zero
    /// after it; nothing restores it, so that rounding in single precision makes the pressure
    /// drift. Call between steps, once the source is over.
    void settle_drift(std::size_t steps);

  private:
    struct Branch {
        Real alpha, beta_mass, beta_spring;  ///< y = alpha (p+ - p-) + beta_mass a - beta_spring b
        Real force;                          ///< rho S/(2T)/(D + kappa)
        double area, mass, stiffness;
        bool has_mass, has_spring;
    };
    struct Kind {
        Real centre, last;
        std::array<Real, 18> link;
        int used;  ///< how many links have a weight, and those:
        std::array<Real, 18> weight;
        std::array<std::ptrdiff_t, 18> at;
        double inverse;  ///< 1/(D + kappa)
        double volume;
        std::array<double, 18> plain_link;
        std::vector<Branch> branches;  ///< those with a memory
    };
    /// Neighbours of one kind along x; or along y, for walls that are one node wide along x.
    struct Run {
        std::size_t first;
        int count, kind;
        std::ptrdiff_t stride;
        std::size_t state;  ///< first state of branch 0; branch b follows at + 2 b count
        std::size_t node(int i) const { return first + i * stride; }
    };
    void air_seven(const Run& run, const Real* p, Real* next) const;
    void air_nineteen(const Run& run, const Real* p, Real* next) const;
    void wall(const Run& run, const Real* p, Real* next);
    void gather(const Run& run, const Real* p, Real* next) const;
    void gather_column(const Run& run, const Real* p, const Real* last, Real* next) const;
    void find_runs(const GridNodes& nodes);

    Air air_;
    double time_step_;
    int links_;  ///< 6 or 18
    std::ptrdiff_t offset_[18];
    std::size_t margin_;
    std::vector<Real> pressure_[2];
    std::vector<Kind> kinds_;
    std::vector<Run> runs_;
    std::vector<std::size_t> work_;  ///< running sum of the cost of runs_
    std::vector<Real> state_;
    struct Drive {
        std::size_t node, run;
        double gain;
        std::vector<std::pair<std::size_t, double>> states;  ///< and what they take of it
    };
    std::vector<Drive> drives_;
    bool sealed_ = true;
};

}  // namespace boxroom
