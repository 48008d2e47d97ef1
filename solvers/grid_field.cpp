#include "solvers/grid_field.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"

namespace boxroom {
namespace {
constexpr int longest_run = 256;
constexpr std::size_t wall_cost = 24;  ///< cells' worth of time that a run costs besides its nodes
}  // namespace

template <typename Real>
GridField<Real>::GridField(const GridShape& shape, const GridNodes& nodes, const Air& air,
                           double time_step)
    : air_(air), time_step_(time_step) {
    const auto& h = shape.spacing;
    const double courant = air.speed_of_sound * time_step *
                           std::sqrt(1 / (h[0] * h[0]) + 1 / (h[1] * h[1]) + 1 / (h[2] * h[2]));
    if (!(courant <= 1))
        throw Error("grid solver", "the time step is too long for the grid", "shorten it");
    stride_[0] = 1;
    stride_[1] = nodes.count[0];
    stride_[2] = static_cast<std::ptrdiff_t>(nodes.count[0]) * nodes.count[1];
    margin_ = static_cast<std::size_t>(stride_[2]) + 16;  // links of weight zero may point outside
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
        for (int i = 0; i < 6; ++i) {
            links += from.link[i];
            kind.link[i] = static_cast<Real>(from.link[i] * inverse);
        }
        kind.centre = static_cast<Real>((2 * d - links) * inverse);
        kind.last = static_cast<Real>((kappa - d) * inverse);
        for (Branch& b : kind.branches) b.force = static_cast<Real>(b.force * inverse);
        kind.inverse = inverse;
        kind.volume = from.volume;
        kind.plain_link = from.link;
        kinds_.push_back(std::move(kind));
    }
    kinds_[0].uniform = true;

    // 2. Runs of alike nodes along x.
    std::size_t states = 0, work = 0;
    for (std::size_t row = 0; row < nodes.size(); row += stride_[1]) {
        for (std::size_t i = row; i < row + stride_[1];) {
            const int kind = nodes.kind_of[i];
            std::size_t end = i + 1;
            while (end < row + stride_[1] && nodes.kind_of[end] == kind && end - i < longest_run)
                ++end;
            if (kind >= 0) {
                const int count = static_cast<int>(end - i);
                runs_.push_back({i, count, kind, states});
                states += 2 * kinds_[kind].branches.size() * count;
                work += count + (kinds_[kind].uniform ? 0 : wall_cost);
                work_.push_back(work);
            }
            i = end;
        }
    }
    state_.assign(states, Real{0});
}

template <typename Real>
void GridField<Real>::update_air(const Run& run) {
    const Kind& k = kinds_[run.kind];
    const Real centre = k.centre, x = k.link[0], y = k.link[2], z = k.link[4];
    const Real* p = now() + run.first;
    const Real *front = p - stride_[1], *back = p + stride_[1];
    const Real *below = p - stride_[2], *above = p + stride_[2];
    Real* next = pressure_[1 - current_].data() + margin_ + run.first;
#pragma omp simd
    for (int i = 0; i < run.count; ++i)
        next[i] = centre * p[i] - next[i] + x * (p[i - 1] + p[i + 1]) + y * (front[i] + back[i]) +
                  z * (below[i] + above[i]);
}

template <typename Real>
void GridField<Real>::update_wall(const Run& run) {
    const Kind& k = kinds_[run.kind];
    const Real* p = now() + run.first;
    const Real *front = p - stride_[1], *back = p + stride_[1];
    const Real *below = p - stride_[2], *above = p + stride_[2];
    Real* next = pressure_[1 - current_].data() + margin_ + run.first;
    const int count = run.count;
    const auto w = k.link;
    if (k.branches.empty()) {
        const Real centre = k.centre, last = k.last;
#pragma omp simd
        for (int i = 0; i < count; ++i)
            next[i] = centre * p[i] + last * next[i] + w[0] * p[i - 1] + w[1] * p[i + 1] +
                      w[2] * front[i] + w[3] * back[i] + w[4] * below[i] + w[5] * above[i];
        return;
    }
    // p+ without what the branches remember, then that, then the branches follow p+ - p-.
    Real rise[longest_run];
    Real* state = &state_[run.state];
    const Real centre = k.centre, last = k.last;
#pragma omp simd
    for (int i = 0; i < count; ++i) {
        const Real old = next[i];
        rise[i] = -old;
        next[i] = centre * p[i] + last * old + w[0] * p[i - 1] + w[1] * p[i + 1] + w[2] * front[i] +
                  w[3] * back[i] + w[4] * below[i] + w[5] * above[i];
    }
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
            const Real y = b.alpha * (rise[i] + next[i]) + b.beta_mass * s[i] -
                           b.beta_spring * s[count + i];
            s[i] = y - s[i];
            s[count + i] += y / 2;
        }
        s += 2 * count;
    }
}

template <typename Real>
void GridField<Real>::update(int part, int parts) {
    const std::size_t total = work_.back();
    const auto at = [&](int n) {
        return static_cast<std::size_t>(
            std::lower_bound(work_.begin(), work_.end(), total * n / parts) - work_.begin());
    };
    const std::size_t first = part == 0 ? 0 : at(part);
    const std::size_t end = part + 1 == parts ? runs_.size() : at(part + 1);
    for (std::size_t r = first; r < end; ++r) {
        const Run& run = runs_[r];
        if (run.kind == 0)
            update_air(run);
        else
            update_wall(run);
    }
}

template <typename Real>
void GridField<Real>::set_source(const std::vector<Feed>& feeds) {
    drives_.clear();
    for (const Feed& feed : feeds) {
        const auto run = std::upper_bound(runs_.begin(), runs_.end(), feed.node,
                                          [](std::size_t n, const Run& r) { return n < r.first; }) -
                         1;
        const Kind& kind = kinds_[run->kind];
        Drive drive{feed.node, feed.share * kind.inverse, {}};
        for (std::size_t b = 0; b < kind.branches.size(); ++b) {
            const std::size_t s = run->state + 2 * b * run->count + (feed.node - run->first);
            drive.states.push_back({s, kind.branches[b].alpha});
            drive.states.push_back({s + run->count, kind.branches[b].alpha / 2});
        }
        drives_.push_back(std::move(drive));
    }
}

template <typename Real>
void GridField<Real>::finish_step(double source) {
    current_ = 1 - current_;
    if (source == 0) return;
    Real* p = pressure_[current_].data() + margin_;
    for (const Drive& drive : drives_) {
        const double rise = drive.gain * source;
        p[drive.node] += static_cast<Real>(rise);
        for (const auto& [state, share] : drive.states)
            state_[state] += static_cast<Real>(share * rise);
    }
}

template <typename Real>
void GridField<Real>::set(std::size_t node, Real present, Real last) {
    pressure_[current_][margin_ + node] = present;
    pressure_[1 - current_][margin_ + node] = last;
}

template <typename Real>
double GridField<Real>::energy() const {
    const double c2 = air_.speed_of_sound * air_.speed_of_sound, t = time_step_;
    const Real *p = now(), *q = before();
    double sum = 0;
    for (const Run& run : runs_) {
        const Kind& k = kinds_[run.kind];
        double kinetic = 0, potential = 0;
        for (int i = 0; i < run.count; ++i) {
            const std::size_t n = run.first + i;
            const double rate = (static_cast<double>(p[n]) - q[n]) / t;
            kinetic += rate * rate;
            for (int a = 0; a < 3; ++a)  // each link once, from its lower end
                potential += k.plain_link[2 * a + 1] *
                             (static_cast<double>(p[n + stride_[a]]) - p[n]) *
                             (static_cast<double>(q[n + stride_[a]]) - q[n]);
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
std::size_t GridField<Real>::bytes() const {
    return (pressure_[0].size() + pressure_[1].size() + state_.size()) * sizeof(Real) +
           runs_.size() * (sizeof(Run) + sizeof(std::size_t));
}

template class GridField<float>;
template class GridField<double>;

}  // namespace boxroom
