#include "solvers/grid_run.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>
#ifdef _OPENMP
#include <omp.h>
#endif

#include "base/parallel.hpp"
#include "base/thread_count.hpp"
#include "solvers/grid_tuning.hpp"
#include "solvers/imaginary_unit.hpp"
#include "solvers/step_barrier.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

double now() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch())
        .count();
}

/// What all runs share.
struct Setting {
    GridShape shape;  ///< with the walls and contents that the difference equations want
    const GridNodes& nodes;
    const Air& air;
    std::span<const double> frequency;
    std::span<const Point> to;
    const GridOptions& options;
    double time_step;
    int every;                                 ///< steps between samples
    std::vector<double> omega;                 ///< of the scheme
    std::vector<std::complex<double>> factor;  ///< Z = factor * transform
    GridPulse pulse;
};

/// What all runs share, worked out.
Setting setting_of(const GridShape& shape, const GridNodes& nodes, const Air& air,
                   std::span<const double> frequency, std::span<const Point> to,
                   const GridOptions& options) {
    const double highest = *std::max_element(frequency.begin(), frequency.end());
    // A hair below the limit of stability, where the waves of the shortest length would not decay.
    const double time_step = 0.995 * longest_time_step(shape, nodes.stencil, air);
    const int every = std::max(1, static_cast<int>(1 / (time_step * 4.5 * highest)));
    Setting s{shape,
              nodes,
              air,
              frequency,
              to,
              options,
              time_step,
              every,
              {},
              {},
              GridPulse(highest, time_step)};
    s.shape.surfaces = tuned_walls(shape, nodes.stencil, air, time_step, highest);
    s.shape.contents = tuned_contents(shape, nodes.stencil, air, time_step, highest);
    for (double f : frequency) {
        const double omega = grid_omega(shape, nodes.stencil, air, time_step, f);
        s.omega.push_back(omega);
        // Sample m is the pressure after (m + 1) every steps; the source of step n acts at time n
        // T.
        s.factor.push_back(j * 2.0 * pi * f * air.density * static_cast<double>(every) *
                           std::polar(1.0, -omega * time_step * every) / s.pulse.spectrum(omega));
    }
    return s;
}

/// Adds up the shares that runs side by side have done, and tells them on.
class SharedProgress {
  public:
    SharedProgress(std::size_t runs, double start,
                   const std::function<void(double share, double seconds)>& tell)
        : start_(start), share_of_(runs, 0.0), tell_(tell) {}
    void say(std::size_t run, double share) {
        if (!tell_) return;
#pragma omp critical(boxroom_grid)
        {
            done_ += (share - share_of_[run]) / static_cast<double>(share_of_.size());
            share_of_[run] = share;
            tell_(done_, done_ > 0.02 ? (now() - start_) * (1 / done_ - 1) : -1);
        }
    }

  private:
    double start_, done_ = 0;
    std::vector<double> share_of_;
    const std::function<void(double, double)>& tell_;
};

/// By how many dB the sound that is left can still move a level, from two states of the transforms.
///
/// If the energy falls by q^2 in a window, what comes later adds less than q/(1 - q) of what the
/// window added. A level more than 15 dB below the median of its receiver counts as one 15 dB below
/// (a deep null), and a change counts for its neighbours too, since it may cross zero.
double still_to_come(const std::vector<std::complex<double>>& last,
                     const std::vector<std::complex<double>>& present, std::size_t frequencies,
                     double q) {
    double worst = 0;
    std::vector<double> level(frequencies);
    for (std::size_t row = 0; row < present.size(); row += frequencies) {
        for (std::size_t f = 0; f < frequencies; ++f) level[f] = std::abs(present[row + f]);
        std::vector<double> sorted = level;
        std::nth_element(sorted.begin(), sorted.begin() + frequencies / 2, sorted.end());
        const double floor = sorted[frequencies / 2] * std::pow(10.0, -15.0 / 20);
        for (std::size_t f = 0; f < frequencies; ++f) {
            double change = 0;
            for (std::size_t g = f < 2 ? 0 : f - 2; g < std::min(frequencies, f + 3); ++g)
                change = std::max(change, std::abs(present[row + g] - last[row + g]));
            worst = std::max(worst, change / std::max(level[f], floor));
        }
    }
    return 20 * std::log10(1 + worst * q / (1 - q));
}

template <typename Real>
class Run {
  public:
    Run(const Setting& s, const Point& from)
        : s_(s),
          field_(s.shape, s.nodes, s.air, s.time_step),
          transform_(s.shape, s.nodes, s.to, phases(s)) {
        std::vector<typename GridField<Real>::Feed> feeds;
        for (const auto& [node, weight] : interpolation(s.shape, s.nodes, from))
            feeds.push_back({node, weight});
        field_.set_source(feeds);
        const std::size_t step = std::max<std::size_t>(1, s.to.size() / 48);
        for (std::size_t p = 0; p < s.to.size(); p += step) watched_.push_back(p);
        next_check_ = s.pulse.length() + static_cast<std::size_t>(0.1 / s.time_step);
    }

    /// Runs to its end with `threads` threads; `say` is told the share done.
    template <typename Say>
    void go(int threads, const Say& say) {
        const auto last_step = static_cast<std::size_t>(s_.options.longest / s_.time_step);
        StepBarrier barrier;
#pragma omp parallel num_threads(threads) if (threads > 1)
        {
#ifdef _OPENMP
            const int part = omp_get_thread_num(), parts = omp_get_num_threads();
#else
            const int part = 0, parts = 1;
#endif
            std::size_t step = 0;
            while (!done_) {
                field_.update(step, part, parts, s_.pulse.at(step));
                ++step;
                barrier.wait(parts);
                // A thread may run ahead into the next step: that writes only the older pressures.
                if (step % s_.every == 0)
                    transform_.sample(field_.after(step), step / s_.every - 1, part, parts);
                const bool drifts = field_.sealed() && step % 128 == 0;
                if (step < next_check_ && !drifts) continue;
                barrier.wait(parts);
                if (part == 0 && drifts && step >= s_.pulse.length()) field_.settle_drift(step);
                if (part == 0 && step >= next_check_) {
                    step_ = step;
                    check();
                    done_ = settled_ || step >= last_step || (s_.options.stop && s_.options.stop());
                    say(done_ ? 1.0 : share());
                }
                barrier.wait(parts);
            }
        }
    }

    void read(std::size_t run, const GridSink& sink) const {
        for (std::size_t p = 0; p < s_.to.size(); ++p)
            for (std::size_t f = 0; f < s_.frequency.size(); ++f)
                sink(run, p, f, s_.factor[f] * transform_.value(p, f));
    }
    bool settled() const {
        return settled_;
    }
    double left_db() const {
        return left_db_;
    }
    double time() const {
        return step_ * s_.time_step;
    }
    std::size_t bytes() const {
        return field_.bytes();
    }

  private:
    static std::vector<double> phases(const Setting& s) {
        std::vector<double> phase;
        for (double omega : s.omega) phase.push_back(omega * s.every * s.time_step);
        return phase;
    }

    void check() {
        transform_.flush(step_ / s_.every);
        std::vector<std::complex<double>> present;
        for (std::size_t p : watched_)
            for (std::size_t f = 0; f < s_.frequency.size(); ++f)
                present.push_back(s_.factor[f] * transform_.value(p, f));
        const double energy = field_.energy(step_);
        if (!last_.empty()) {
            decay_ = std::sqrt(energy / last_energy_);
            left_db_ = energy <= 0  ? 0
                       : decay_ < 1 ? still_to_come(last_, present, s_.frequency.size(), decay_)
                                    : 1e9;
            settled_ = left_db_ <= s_.options.left_db;
        }
        const double window = std::max(0.05, 0.1 * time());
        window_ = window;
        last_ = std::move(present);
        last_energy_ = energy;
        next_check_ = step_ + static_cast<std::size_t>(window / s_.time_step);
    }

    /// Time gone over the time expected: the change falls by `decay_` a window.
    double share() const {
        if (!(decay_ < 1) || left_db_ > 1e8) return 0.02;
        const double windows =
            std::log(left_db_ / s_.options.left_db) / std::log(1 / std::max(decay_, 1e-3));
        return time() / (time() + std::max(0.0, windows) * window_);
    }

    const Setting& s_;
    GridField<Real> field_;
    RunningTransform<Real> transform_;
    std::vector<std::size_t> watched_;
    std::vector<std::complex<double>> last_;
    double last_energy_ = 0, decay_ = 1, left_db_ = 1e9, window_ = 0.05;
    std::size_t step_ = 0, next_check_ = 0;
    bool done_ = false, settled_ = false;
};

}  // namespace

double grid_omega(const GridShape& shape, Stencil stencil, const Air& air, double time_step,
                  double frequency) {
    // Means over the sphere: of 4 sin^2(k n_a h/2)/h^2 in closed form; of the product of two of
    // them k^4 <n_a^2 n_b^2> = k^4/15 and its next term, k^6 (h_a^2 + h_b^2)/12 <n_a^4 n_b^2> =
    // k^6 (h_a^2 + h_b^2)/420.
    const double k = 2 * pi * frequency / air.speed_of_sound;
    const auto& h = shape.spacing;
    double square = 0;
    for (int a = 0; a < 3; ++a) {
        const double t = k * h[a];
        square +=
            t < 1e-2 ? k * k * (1.0 / 3 - t * t / 60) : 2 / (h[a] * h[a]) * (1 - std::sin(t) / t);
        for (int b = 0; b < a && stencil == Stencil::nineteen_points; ++b) {
            const double both = h[a] * h[a] + h[b] * h[b];
            square -= both / 12 * (std::pow(k, 4) / 15 - std::pow(k, 6) * both / 420);
        }
    }
    return 2 / time_step *
           std::asin(std::min(1.0, air.speed_of_sound * time_step / 2 * std::sqrt(square)));
}

GridPulse::GridPulse(double highest_frequency, double time_step) : time_step_(time_step) {
    const double sigma = 1.9 / (2 * pi * highest_frequency) / time_step;  // in steps
    const int half = static_cast<int>(std::ceil(6.5 * sigma));
    const auto gauss = [&](int n) {
        return std::abs(n) > half ? 0.0 : std::exp(-n * n / (2 * sigma * sigma));
    };
    for (int n = -half - 1; n <= half + 1; ++n)
        value_.push_back((gauss(n - 1) - 2 * gauss(n) + gauss(n + 1)) * sigma * sigma);
}

std::complex<double> GridPulse::spectrum(double omega) const {
    std::complex<double> sum = 0;
    for (std::size_t n = 0; n < value_.size(); ++n)
        sum += value_[n] * std::polar(1.0, -omega * time_step_ * static_cast<double>(n));
    return sum;
}

template <typename Real>
void run_grid(const GridShape& shape, const GridNodes& nodes, const Air& air,
              std::span<const double> frequency, std::span<const Point> from,
              std::span<const Point> to, const GridOptions& options, GridReport& report,
              const GridSink& sink) {
    const double start = now();
    const Setting s = setting_of(shape, nodes, air, frequency, to, options);
    report.time_step = s.time_step;
    report.runs = static_cast<int>(from.size());
    SharedProgress progress(from.size(), start, options.progress);
    // One piece of code for runs side by side and runs on all threads: a second copy may be rounded
    // otherwise in the last digit.
    const auto one = [&](std::size_t index, int threads) __attribute__((noinline)) {
        Run<Real> run(s, from[index]);
        run.go(threads, [&](double share) { progress.say(index, share); });
#pragma omp critical(boxroom_grid)
        {
            run.read(index, sink);
            report.settled = report.settled && run.settled();
            report.left_db = std::max(report.left_db, run.left_db());
            report.longest = std::max(report.longest, run.time());
            report.bytes_per_cell = static_cast<double>(run.bytes()) / nodes.size();
        }
    };

    const int threads = thread_count();
    const std::size_t alone = from.size() / threads * threads;
    FirstFailure failure;
#pragma omp parallel for schedule(dynamic, 1) num_threads(threads) if (threads > 1)
    for (std::size_t i = 0; i < alone; ++i) failure.guard([&] { one(i, 1); });
    failure.rethrow();
    for (std::size_t i = alone; i < from.size(); ++i) one(i, threads);
    report.seconds = now() - start;
}

template void run_grid<float>(const GridShape&, const GridNodes&, const Air&,
                              std::span<const double>, std::span<const Point>,
                              std::span<const Point>, const GridOptions&, GridReport&,
                              const GridSink&);
template void run_grid<double>(const GridShape&, const GridNodes&, const Air&,
                               std::span<const double>, std::span<const Point>,
                               std::span<const Point>, const GridOptions&, GridReport&,
                               const GridSink&);

}  // namespace boxroom
