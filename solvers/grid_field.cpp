#include "solvers/grid_field.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"

namespace boxroom {
namespace {
/// Cells' worth of time: what a run of a wall costs besides its nodes, and a node along y.
constexpr std::size_t wall_cost = 24, column_cost = 8;
}  // namespace

template <typename Real>
GridField<Real>::GridField(const GridShape& shape, const GridNodes& nodes, const Air& air,
                           double time_step)
    : air_(air),
      time_step_(time_step),
      contents_(grid_contents(shape.contents, shape.contents_volume, air, time_step)),
      has_contents_(!shape.contents.empty()) {
    if (!(time_step <= longest_time_step(shape, nodes.stencil, air)))
        throw Error("grid solver", "the time step is too long for the grid", "shorten it");
    links_ = nodes.stencil == Stencil::seven_points ? 6 : 18;
    const std::ptrdiff_t row_length = nodes.count[0], plane = row_length * nodes.count[1];
    for (int i = 0; i < 18; ++i)
        offset_[i] = link_step[i][0] + link_step[i][1] * row_length + link_step[i][2] * plane;
    margin_ = static_cast<std::size_t>(plane + row_length) + 15;  // links of no weight lead outside
    const std::size_t places = nodes.size() + 2 * margin_;
    for (auto& p : pressure_) p.assign(places, Real{0});
    for (auto* more : {drive_, kept_})
        for (int n = 0; n < 2; ++n) more[n].assign(has_contents_ ? places : 0, Real{0});

    // 1. The coefficients of each kind of node.
    for (const NodeKind& from : nodes.kinds) {
        kinds_.push_back(grid_kind<Real>(from, shape, air, time_step, offset_));
        sealed_ = sealed_ && kinds_.back().sealed;
    }

    // 2. Nodes of one kind side by side, with room for what their branches remember.
    runs_ = grid_runs(nodes);
    std::size_t states = 0, work = 0;
    for (GridRun& run : runs_) {
        run.state = states;
        states += 2 * kinds_[run.kind].branches.size() * run.count;
        work += run.count * (run.stride == 1 ? 1 : column_cost) +
                (kinds_[run.kind].inner ? 0 : wall_cost);
        work_.push_back(work);
    }
    state_.assign(states, Real{0});
}

/// The pressures a step later, without what follows them: from those that drive the air (p, or phi
/// among contents) and, if `kept`, what the contents keep.
template <typename Real>
void GridField<Real>::move(const GridRun& run, const Real* p, const Real* drive, const Real* kept,
                           Real* to) {
    const GridKind<Real>& k = kinds_[run.kind];
    const int count = run.count;
    if (k.inner) {
        if (links_ == 6)
            air_seven(k.stencil, offset_, count, drive, to);
        else
            air_nineteen(k.stencil, offset_, count, drive, to);
        if (!kept) return;
#pragma omp simd
        for (int i = 0; i < count; ++i) to[i] += 2 * kept[i];
        return;
    }
    const bool row = run.stride == 1;
    if (row && k.branches.empty() && !kept)
        return gather(k.stencil, offset_, links_, count, drive, to);
    Real last[longest_run], column[longest_run];
    for (int i = 0; i < count; ++i) last[i] = to[i * run.stride];
    Real* next = row ? to : column;
    if (row)
        gather(k.stencil, offset_, links_, count, drive, next);
    else
        gather_column(k.stencil, run.stride, count, drive, last, next);
    if (kept) {
        const Real weight = 1 - k.stencil.last;
        for (int i = 0; i < count; ++i) next[i] += weight * kept[i * run.stride];
        for (const auto& [at, past] : k.bare)
            for (int i = 0; i < count; ++i) {
                const Real* here = p + i * run.stride;
                next[i] += past * (here[at] - here[0]);
            }
    }
    follow_branches(run, last, next);
    if (!row)
        for (int i = 0; i < count; ++i) to[i * run.stride] = column[i];
}

/// p+ with what the branches remember, then the branches follow p+ - p-.
template <typename Real>
void GridField<Real>::follow_branches(const GridRun& run, const Real* last, Real* next) {
    const GridKind<Real>& k = kinds_[run.kind];
    const int count = run.count;
    Real* s = state_.data() + run.state;
    for (const GridBranch<Real>& b : k.branches) {
        const Real from_mass = -b.force * b.beta_mass, from_spring = b.force * b.beta_spring;
#pragma omp simd
        for (int i = 0; i < count; ++i) next[i] += from_mass * s[i] + from_spring * s[count + i];
        s += 2 * count;
    }
    s = state_.data() + run.state;
    for (const GridBranch<Real>& b : k.branches) {
#pragma omp simd
        for (int i = 0; i < count; ++i) {
            const Real y =
                b.alpha * (next[i] - last[i]) + b.beta_mass * s[i] - b.beta_spring * s[count + i];
            s[i] = y - s[i];
            s[count + i] += y / 2;
        }
        s += 2 * count;
    }
}

/// r+ and phi+ = p+ - r+, once p+ is there.
template <typename Real>
void GridField<Real>::follow_contents(const GridRun& run, std::size_t step) {
    const Real* r = kept(step) + run.first;
    const Real* phi = drive(step) + run.first;
    const Real* p = after(step + 1) + run.first;
    Real* next = kept_[(step + 1) & 1].data() + margin_ + run.first;  // holds r-
    Real* drive_next = drive_[(step + 1) & 1].data() + margin_ + run.first;
    const auto from_last = static_cast<Real>(contents_.last),
               from_before = static_cast<Real>(contents_.before),
               from_drive = static_cast<Real>(contents_.drive),
               from_next = static_cast<Real>(contents_.next);
    const auto one = [&](std::ptrdiff_t i) {
        const Real held =
            from_last * r[i] + from_before * next[i] + from_drive * phi[i] + from_next * p[i];
        next[i] = held;
        drive_next[i] = p[i] - held;
    };
    if (run.stride == 1) {
#pragma omp simd
        for (int i = 0; i < run.count; ++i) one(i);
    } else {
        for (int i = 0; i < run.count; ++i) one(i * run.stride);
    }
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
        const GridRun& run = runs_[r];
        const Real* p = present + run.first;
        if (!kinds_[run.kind].contents) {
            move(run, p, p, nullptr, next + run.first);
            continue;
        }
        move(run, p, drive(step) + run.first, kept(step) + run.first, next + run.first);
        follow_contents(run, step);
    }
    if (source == 0 || first == end) return;
    for (const Drive& drive : drives_) {
        if (drive.run < first || drive.run >= end) continue;
        const double rise = drive.gain * source;
        next[drive.node] += static_cast<Real>(rise);
        for (const auto& [state, share] : drive.states)
            state_[state] += static_cast<Real>(share * rise);
        if (!kinds_[runs_[drive.run].kind].contents) continue;
        const std::size_t node = margin_ + drive.node;
        kept_[(step + 1) & 1][node] += static_cast<Real>(contents_.next * rise);
        drive_[(step + 1) & 1][node] += static_cast<Real>((1 - contents_.next) * rise);
    }
}

template <typename Real>
void GridField<Real>::set_source(const std::vector<Feed>& feeds) {
    drives_.clear();
    for (const Feed& feed : feeds) {
        const auto place = [&](const GridRun& r) { return (feed.node - r.first) / r.stride; };
        const auto run = std::find_if(runs_.begin(), runs_.end(), [&](const GridRun& r) {
            return feed.node >= r.first && (feed.node - r.first) % r.stride == 0 &&
                   place(r) < static_cast<std::size_t>(r.count);
        });
        const GridKind<Real>& kind = kinds_[run->kind];
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
    const std::size_t at = margin_ + node;
    pressure_[0][at] = start;
    pressure_[1][at] = before;
    if (!has_contents_) return;
    // As if the contents had kept nothing a step before.
    const auto held = static_cast<Real>(contents_.drive * before + contents_.next * start);
    kept_[0][at] = held, kept_[1][at] = 0;
    drive_[0][at] = start - held, drive_[1][at] = before;
}

/// Kinetic energy of one run's nodes and potential energy of its links.
template <typename Real>
double GridField<Real>::node_energy(const GridRun& run, std::size_t steps) const {
    const double c2 = air_.speed_of_sound * air_.speed_of_sound;
    const GridKind<Real>& k = kinds_[run.kind];
    const Real *p = after(steps), *q = after(steps + 1);  // the other one: a step before
    double kinetic = 0, potential = 0;
    for (int i = 0; i < run.count; ++i) {
        const std::size_t n = run.node(i);
        const double rate = (static_cast<double>(p[n]) - q[n]) / time_step_;
        kinetic += rate * rate;
        for (int l = 1; l < links_; l += 2) {  // each link once, from one of its ends
            const double past = k.link[l] - (has_contents_ ? k.among[l] : 0);
            if (past != 0)
                potential += past * (static_cast<double>(p[n + offset_[l]]) - p[n]) *
                             (static_cast<double>(q[n + offset_[l]]) - q[n]);
        }
    }
    return k.volume / c2 * kinetic + potential;
}

/// The links among contents: sum_links of phi phi-, less delta T/2 (phi^2 - phi-^2) for a constant
/// area, or with (1/(2 delta B)) ((d_t- r)^2 + w0^2 r r-) for the band-pass.
template <typename Real>
double GridField<Real>::contents_energy(const GridRun& run, std::size_t steps) const {
    const GridKind<Real>& k = kinds_[run.kind];
    const Real *phi = drive(steps), *phi_before = drive(steps + 1);
    const Real *r = kept(steps), *r_before = kept(steps + 1);
    double sum = 0;
    for (int i = 0; i < run.count; ++i)
        for (int l = 1; l < links_; l += 2) {
            if (k.among[l] == 0) continue;
            const std::size_t n = run.node(i), m = n + offset_[l];
            const double now = static_cast<double>(phi[m]) - phi[n],
                         before = static_cast<double>(phi_before[m]) - phi_before[n];
            double link =
                now * before - contents_.rate * time_step_ / 2 * (now * now - before * before);
            if (contents_.inertia > 0) {
                const double held = static_cast<double>(r[m]) - r[n],
                             held_before = static_cast<double>(r_before[m]) - r_before[n];
                const double rate = (held - held_before) / time_step_;
                link +=
                    (rate * rate + contents_.own_square * held * held_before) / contents_.inertia;
            }
            sum += k.among[l] * link;
        }
    return sum;
}

template <typename Real>
double GridField<Real>::branch_energy(const GridRun& run) const {
    const Real* s = state_.data() + run.state;
    double sum = 0;
    for (const GridBranch<Real>& b : kinds_[run.kind].branches) {
        for (int i = 0; i < run.count; ++i) {
            const double a = s[i] / time_step_, v = s[run.count + i];
            sum += air_.density * b.area * (b.mass * a * a + b.stiffness * v * v);
        }
        s += 2 * run.count;
    }
    return sum;
}

template <typename Real>
double GridField<Real>::energy(std::size_t steps) const {
    double sum = 0;
    for (const GridRun& run : runs_) {
        sum += node_energy(run, steps) + branch_energy(run);
        if (has_contents_) sum += contents_energy(run, steps);
    }
    return sum / 2;
}

template <typename Real>
void GridField<Real>::settle_drift(std::size_t steps) {
    const double c2 = air_.speed_of_sound * air_.speed_of_sound;
    const Real* p = after(steps);
    Real* q = pressure_[(steps + 1) & 1].data() + margin_;
    double flow = 0, compliance = 0;
    for (const GridRun& run : runs_) {
        const GridKind<Real>& k = kinds_[run.kind];
        double rise = 0;
        for (int i = 0; i < run.count; ++i)
            rise += static_cast<double>(p[run.node(i)]) - q[run.node(i)];
        flow += k.volume / c2 * rise / time_step_;
        compliance += k.volume / c2 * run.count;
        const Real* s = state_.data() + run.state + run.count;
        for (const GridBranch<Real>& b : k.branches) {
            for (int i = 0; i < run.count; ++i) flow += air_.density * b.area * s[i];
            s += 2 * run.count;
        }
    }
    const auto shift = static_cast<Real>(time_step_ * flow / compliance);
    for (const GridRun& run : runs_)
        for (int i = 0; i < run.count; ++i) q[run.node(i)] += shift;
}

template <typename Real>
std::size_t GridField<Real>::bytes() const {
    const std::size_t fields = pressure_[0].size() + drive_[0].size() + kept_[0].size();
    return (2 * fields + state_.size()) * sizeof(Real) +
           runs_.size() * (sizeof(GridRun) + sizeof(std::size_t));
}

template class GridField<float>;
template class GridField<double>;

}  // namespace boxroom
