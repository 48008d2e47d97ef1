#include "solvers/grid_field.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/error.hpp"

namespace boxroom {
namespace {
constexpr int longest_run = 256;
/// Cells' worth of time: what a run of a wall costs besides its nodes, and a node along y.
constexpr std::size_t wall_cost = 24, column_cost = 8;

/// Rounds to a multiple of 2^-22 (2^-51 for double). Sums of such coefficients are exact, so that a
/// constant pressure stays constant: with plain rounding the sum of a row misses 1 by 1e-7, and the
/// pressure of the closed room grows like e^(n sqrt(1e-7)).
template <typename Real>
double stepped(double x) {
    const int bits = std::numeric_limits<Real>::digits - 2;
    return std::ldexp(std::nearbyint(std::ldexp(x, bits)), -bits);
}
}  // namespace

template <typename Real>
GridField<Real>::GridField(const GridShape& shape, const GridNodes& nodes, const Air& air,
                           double time_step)
    : air_(air), time_step_(time_step) {
    if (!(time_step <= longest_time_step(shape, nodes.stencil, air)))
        throw Error("grid solver", "the time step is too long for the grid", "shorten it");
    links_ = nodes.stencil == Stencil::seven_points ? 6 : 18;
    const std::ptrdiff_t row_length = nodes.count[0], plane = row_length * nodes.count[1];
    for (int i = 0; i < 18; ++i)
        offset_[i] = link_step[i][0] + link_step[i][1] * row_length + link_step[i][2] * plane;
    margin_ = static_cast<std::size_t>(plane + row_length) + 15;  // links of no weight lead outside
    for (auto& p : pressure_) p.assign(nodes.size() + 2 * margin_, Real{0});

    // 1. The coefficients of each kind of node.
    const double t = time_step, rho = air.density, c2 = air.speed_of_sound * air.speed_of_sound;
    for (const NodeKind& from : nodes.kinds) {
        Kind kind;
        const double d = from.volume / (c2 * t * t);
        double kappa = 0;
        for (const auto& patch : from.patches) {
            for (const auto& b : shape.surfaces[patch.surface].wall.branches) {
                const double q = b.mass / (t * t) + b.resistance / (2 * t) + b.stiffness / 4;
                const double alpha = 1 / (2 * t) / q;
                kappa += rho * patch.area / (2 * t) * alpha;
                if (b.stiffness <= 0) sealed_ = false;
                if (b.mass <= 0 && b.stiffness <= 0) continue;
                kind.branches.push_back({static_cast<Real>(alpha),
                                         static_cast<Real>(2 * b.mass / (t * t) / q),
                                         static_cast<Real>(b.stiffness / q),
                                         static_cast<Real>(rho * patch.area / (2 * t)), patch.area,
                                         b.mass, b.stiffness, b.mass > 0, b.stiffness > 0});
            }
        }
        const double inverse = 1 / (d + kappa);
        double links = 0;
        for (int i = 0; i < links_; ++i) {
            const double link = stepped<Real>(from.link[i] * inverse);
            kind.link[i] = static_cast<Real>(link);
            links += link;
        }
        kind.used = 0;
        for (int i = 0; i < links_; ++i)
            if (kind.link[i] != 0)
                kind.weight[kind.used] = kind.link[i], kind.at[kind.used++] = offset_[i];
        const double last = stepped<Real>((kappa - d) * inverse);
        kind.last = static_cast<Real>(last);
        kind.centre = static_cast<Real>(1 - last - links);
        for (Branch& b : kind.branches) b.force = static_cast<Real>(b.force * inverse);
        kind.inverse = inverse;
        kind.volume = from.volume;
        kind.plain_link = from.link;
        kinds_.push_back(std::move(kind));
    }

    // 2. Nodes of one kind side by side, with room for what their branches remember.
    find_runs(nodes);
    std::size_t states = 0, work = 0;
    for (Run& run : runs_) {
        run.state = states;
        states += 2 * kinds_[run.kind].branches.size() * run.count;
        work += run.count * (run.stride == 1 ? 1 : column_cost) + (run.kind == 0 ? 0 : wall_cost);
        work_.push_back(work);
    }
    state_.assign(states, Real{0});
}

template <typename Real>
void GridField<Real>::find_runs(const GridNodes& nodes) {
    const std::size_t row_length = nodes.count[0];
    // The run along y that last passed each place of a row; a single node of a wall joins it.
    std::vector<std::size_t> column(row_length, runs_.max_size());
    for (std::size_t row = 0; row < nodes.size(); row += row_length) {
        for (std::size_t i = row; i < row + row_length;) {
            const int kind = nodes.kind_of[i];
            std::size_t end = i + 1;
            while (end < row + row_length && nodes.kind_of[end] == kind && end - i < longest_run)
                ++end;
            std::size_t& above = column[i - row];
            if (kind > 0 && end == i + 1 && above < runs_.size() && runs_[above].kind == kind &&
                runs_[above].count < longest_run &&
                runs_[above].first + runs_[above].count * row_length == i &&
                (runs_[above].count == 1 || runs_[above].stride != 1)) {
                runs_[above].stride = static_cast<std::ptrdiff_t>(row_length);
                ++runs_[above].count;
            } else if (kind >= 0) {
                above = runs_.size();
                runs_.push_back({i, static_cast<int>(end - i), kind, 1, 0});
            }
            i = end;
        }
    }
}

template <typename Real>
void GridField<Real>::air_seven(const Run& run, const Real* p, Real* next) const {
    const Kind& k = kinds_[0];
    const Real centre = k.centre, x = k.link[0], y = k.link[2], z = k.link[4];
    const Real *front = p + offset_[2], *back = p + offset_[3];
    const Real *below = p + offset_[4], *above = p + offset_[5];
#pragma omp simd
    for (int i = 0; i < run.count; ++i)
        next[i] = centre * p[i] - next[i] + x * (p[i - 1] + p[i + 1]) + y * (front[i] + back[i]) +
                  z * (below[i] + above[i]);
}

/// The sum over the three columns i - 1, i, i + 1: what the outer two share is worked out once.
template <typename Real>
void GridField<Real>::air_nineteen(const Run& run, const Real* p, Real* next) const {
    const Kind& k = kinds_[0];
    const Real centre = k.centre, x = k.link[0], y = k.link[2], z = k.link[4];
    const Real xy = k.link[6], xz = k.link[10], yz = k.link[14];
    const std::ptrdiff_t row = offset_[3], plane = offset_[5];
    const Real *front = p - row, *back = p + row, *below = p - plane, *above = p + plane;
    const Real *bf = below - row, *bb = below + row, *af = above - row, *ab = above + row;
    const int count = run.count;
    Real outer[longest_run + 2];  // of column i at i + 1
    for (const int i : {-1, count})
        outer[i + 1] = x * p[i] + xy * (front[i] + back[i]) + xz * (below[i] + above[i]);
#pragma omp simd
    for (int i = 0; i < count; ++i) {
        const Real along_y = front[i] + back[i], along_z = below[i] + above[i];
        outer[i + 1] = x * p[i] + xy * along_y + xz * along_z;
        next[i] = centre * p[i] - next[i] + y * along_y + z * along_z +
                  yz * ((bf[i] + bb[i]) + (af[i] + ab[i]));
    }
#pragma omp simd
    for (int i = 0; i < count; ++i) next[i] += outer[i] + outer[i + 2];
}

/// next = centre p + last next + sum of links, each with its own weight.
template <typename Real>
void GridField<Real>::gather(const Run& run, const Real* p, Real* next) const {
    const Kind& k = kinds_[run.kind];
    const int count = run.count;
    const auto& w = k.link;
    const Real centre = k.centre, last = k.last;
    const Real *n0 = p + offset_[0], *n1 = p + offset_[1], *n2 = p + offset_[2];
    const Real *n3 = p + offset_[3], *n4 = p + offset_[4], *n5 = p + offset_[5];
#pragma omp simd
    for (int i = 0; i < count; ++i)
        next[i] = centre * p[i] + last * next[i] + w[0] * n0[i] + w[1] * n1[i] + w[2] * n2[i] +
                  w[3] * n3[i] + w[4] * n4[i] + w[5] * n5[i];
    for (int l = 6; l < links_; l += 2) {
        if (w[l] == 0 && w[l + 1] == 0) continue;
        const Real *a = p + offset_[l], *b = p + offset_[l + 1];
#pragma omp simd
        for (int i = 0; i < count; ++i) next[i] += w[l] * a[i] + w[l + 1] * b[i];
    }
}

/// The same for nodes along y, from and to lists.
template <typename Real>
void GridField<Real>::gather_column(const Run& run, const Real* p, const Real* last,
                                    Real* next) const {
    const Kind& k = kinds_[run.kind];
    for (int i = 0; i < run.count; ++i) {
        const Real* here = p + i * run.stride;
        Real sum = k.centre * here[0] + k.last * last[i];
        for (int l = 0; l < k.used; ++l) sum += k.weight[l] * here[k.at[l]];
        next[i] = sum;
    }
}

template <typename Real>
void GridField<Real>::wall(const Run& run, const Real* p, Real* to) {
    const Kind& k = kinds_[run.kind];
    const bool row = run.stride == 1;
    if (row && k.branches.empty()) return gather(run, p, to);
    // p+ without what the branches remember, then that, then the branches follow p+ - p-.
    const int count = run.count;
    Real last[longest_run], column[longest_run];
    for (int i = 0; i < count; ++i) last[i] = to[i * run.stride];
    Real* next = row ? to : column;
    if (row)
        gather(run, p, next);
    else
        gather_column(run, p, last, next);
    Real* state = &state_[run.state];
    Real* s = state;
    for (const Branch& b : k.branches) {
        const Real from_mass = -b.force * b.beta_mass, from_spring = b.force * b.beta_spring;
#pragma omp simd
        for (int i = 0; i < count; ++i) next[i] += from_mass * s[i] + from_spring * s[count + i];
        s += 2 * count;
    }
    s = state;
    for (const Branch& b : k.branches) {
#pragma omp simd
        for (int i = 0; i < count; ++i) {
            const Real y =
                b.alpha * (next[i] - last[i]) + b.beta_mass * s[i] - b.beta_spring * s[count + i];
            s[i] = y - s[i];
            s[count + i] += y / 2;
        }
        s += 2 * count;
    }
    if (!row)
        for (int i = 0; i < count; ++i) to[i * run.stride] = column[i];
}

template <typename Real>
void GridField<Real>::update(std::size_t step, int part, int parts, double source) {
    const std::size_t total = work_.back();
    const auto at = [&](int n) {
        return static_cast<std::size_t>(
            std::lower_bound(work_.begin(), work_.end(), total * n / parts) - work_.begin());
    };
    const std::size_t first = part == 0 ? 0 : at(part);
    const std::size_t end = part + 1 == parts ? runs_.size() : at(part + 1);
    const Real* present = after(step);
    Real* next = pressure_[(step + 1) & 1].data() + margin_;
    for (std::size_t r = first; r < end; ++r) {
        const Run& run = runs_[r];
        const Real* p = present + run.first;
        Real* n = next + run.first;
        if (run.kind != 0)
            wall(run, p, n);
        else if (links_ == 6)
            air_seven(run, p, n);
        else
            air_nineteen(run, p, n);
    }
    if (source == 0 || first == end) return;
    for (const Drive& drive : drives_) {
        if (drive.run < first || drive.run >= end) continue;
        const double rise = drive.gain * source;
        next[drive.node] += static_cast<Real>(rise);
        for (const auto& [state, share] : drive.states)
            state_[state] += static_cast<Real>(share * rise);
    }
}

template <typename Real>
void GridField<Real>::set_source(const std::vector<Feed>& feeds) {
    drives_.clear();
    for (const Feed& feed : feeds) {
        const auto place = [&](const Run& r) { return (feed.node - r.first) / r.stride; };
        const auto run = std::find_if(runs_.begin(), runs_.end(), [&](const Run& r) {
            return feed.node >= r.first && (feed.node - r.first) % r.stride == 0 &&
                   place(r) < static_cast<std::size_t>(r.count);
        });
        const Kind& kind = kinds_[run->kind];
        Drive drive{feed.node,
                    static_cast<std::size_t>(run - runs_.begin()),
                    feed.share * kind.inverse,
                    {}};
        for (std::size_t b = 0; b < kind.branches.size(); ++b) {
            const std::size_t s = run->state + 2 * b * run->count + place(*run);
            drive.states.push_back({s, kind.branches[b].alpha});
            drive.states.push_back({s + run->count, kind.branches[b].alpha / 2});
        }
        drives_.push_back(std::move(drive));
    }
}

template <typename Real>
void GridField<Real>::set(std::size_t node, Real start, Real before) {
    pressure_[0][margin_ + node] = start;
    pressure_[1][margin_ + node] = before;
}

template <typename Real>
double GridField<Real>::energy(std::size_t steps) const {
    const double c2 = air_.speed_of_sound * air_.speed_of_sound, t = time_step_;
    const Real *p = after(steps), *q = after(steps + 1);  // the other one: a step before
    double sum = 0;
    for (const Run& run : runs_) {
        const Kind& k = kinds_[run.kind];
        double kinetic = 0, potential = 0;
        for (int i = 0; i < run.count; ++i) {
            const std::size_t n = run.node(i);
            const double rate = (static_cast<double>(p[n]) - q[n]) / t;
            kinetic += rate * rate;
            for (int l = 1; l < links_; l += 2)  // each link once, from one of its ends
                potential += k.plain_link[l] * (static_cast<double>(p[n + offset_[l]]) - p[n]) *
                             (static_cast<double>(q[n + offset_[l]]) - q[n]);
        }
        sum += k.volume / c2 * kinetic + potential;
        const Real* s = state_.data() + run.state;
        for (const Branch& b : k.branches) {
            for (int i = 0; i < run.count; ++i) {
                const double a = s[i] / t, v = s[run.count + i];
                sum += air_.density * b.area * (b.mass * a * a + b.stiffness * v * v);
            }
            s += 2 * run.count;
        }
    }
    return sum / 2;
}

template <typename Real>
void GridField<Real>::settle_drift(std::size_t steps) {
    const double c2 = air_.speed_of_sound * air_.speed_of_sound;
    const Real* p = after(steps);
    Real* q = pressure_[(steps + 1) & 1].data() + margin_;
    double flow = 0, compliance = 0;
    for (const Run& run : runs_) {
        const Kind& k = kinds_[run.kind];
        double rise = 0;
        for (int i = 0; i < run.count; ++i)
            rise += static_cast<double>(p[run.node(i)]) - q[run.node(i)];
        flow += k.volume / c2 * rise / time_step_;
        compliance += k.volume / c2 * run.count;
        const Real* s = state_.data() + run.state + run.count;
        for (const Branch& b : k.branches) {
            for (int i = 0; i < run.count; ++i) flow += air_.density * b.area * s[i];
            s += 2 * run.count;
        }
    }
    const auto shift = static_cast<Real>(time_step_ * flow / compliance);
    for (const Run& run : runs_)
        for (int i = 0; i < run.count; ++i) q[run.node(i)] += shift;
}

template <typename Real>
std::size_t GridField<Real>::bytes() const {
    return (pressure_[0].size() + pressure_[1].size() + state_.size()) * sizeof(Real) +
           runs_.size() * (sizeof(Run) + sizeof(std::size_t));
}

template class GridField<float>;
template class GridField<double>;

}  // namespace boxroom
