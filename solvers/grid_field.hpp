#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "base/air.hpp"
#include "solvers/grid_contents.hpp"
#include "solvers/grid_kind.hpp"
#include "solvers/grid_runs.hpp"
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
/// R (d_t v)^2 a step and never rises, for every R, M, K >= 0, up to longest_time_step(). Among the
/// contents of a room the links act on phi = p - r (solvers/grid_contents.hpp).
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
    void move(const GridRun& run, const Real* p, const Real* drive, const Real* kept, Real* next);
    void follow_branches(const GridRun& run, const Real* last, Real* next);
    void follow_contents(const GridRun& run, std::size_t step);
    double node_energy(const GridRun& run, std::size_t steps) const;
    double contents_energy(const GridRun& run, std::size_t steps) const;
    double branch_energy(const GridRun& run) const;
    const Real* drive(std::size_t steps) const { return drive_[steps & 1].data() + margin_; }
    const Real* kept(std::size_t steps) const { return kept_[steps & 1].data() + margin_; }

    Air air_;
    double time_step_;
    GridContents contents_;
    bool has_contents_;
    int links_;  ///< 6 or 18
    std::array<std::ptrdiff_t, 18> offset_;
    std::size_t margin_;
    std::vector<Real> pressure_[2], drive_[2], kept_[2];  ///< p; with contents also phi and r
    std::vector<GridKind<Real>> kinds_;
    std::vector<GridRun> runs_;
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
