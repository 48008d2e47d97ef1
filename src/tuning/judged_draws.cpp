#include "tuning/judged_draws.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <numeric>

#include "base/clock.hpp"
#include "base/parallel.hpp"
#include "base/time_left.hpp"
#include "placement/many_levels.hpp"
#include "solvers/modal.hpp"
#include "solvers/modal_drafts.hpp"
#include "tuning/drawn_rooms.hpp"
#include "tuning/draws.hpp"
#include "tuning/settings.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

/// All boxes of all sets, one after another, at the seats of one draw, by one of the modal sums
/// without terms that have decayed by e^-decay.
template <typename Real>
TransferImpedance<Real> drawn_transfer(
    const Scenario& scenario, const std::vector<const RankedSet*>& sets, const Draw& draw,
    std::span<const double> frequency,
    TransferImpedance<Real> (*solve)(const Room&, const Air&, std::span<const double>,
                                     std::span<const Point>, std::span<const Point>, double),
    double decay = 9) {
    std::vector<Point> sources;
    for (const RankedSet* set : sets)
        for (std::size_t k = 0; k < set->positions.size(); ++k)
            sources.push_back(
                moved(set->positions[k], scenario.acoustics.room, draw.room, draw.shift[k]));
    return solve(draw.room, scenario.acoustics.air, frequency, sources, places_of(draw.seats),
                 decay);
}

/// Whether a draft is as good in the first few draws: to 2e-4 of the mean pressure, 0.002 dB, at
/// every frequency.
bool draft_will_do(const Scenario& scenario, const std::vector<const RankedSet*>& sets,
                   const JudgedFrequencies& judged) {
    constexpr double close = 2e-4;
    for (int n = 0; n < std::min(3, scenario.judgement.uncertainty.draws); ++n) {
        const Draw draw = draw_inputs(scenario, n);
        const std::vector<double> frequency = judged.of(draw.room);
        const auto z = drawn_transfer(scenario, sets, draw, frequency, modal_transfer_many),
                   quick = drawn_transfer(scenario, sets, draw, frequency, modal_transfer_draft);
        const std::size_t each = z.receivers * z.sources;
        for (std::size_t first = 0; first < z.value.size(); first += each) {
            double error = 0, all = 0;
            for (std::size_t i = first; i < first + each; ++i) {
                error += std::norm(z.value[i] - quick.value[i]);
                all += std::norm(z.value[i]);
            }
            if (error > close * close * all) return false;
        }
    }
    return true;
}

/// What the boxes of some sets make of the transfer in one draw.
class DrawnSubs {
  public:
    DrawnSubs(const Scenario& scenario, double box_volume, const Draw& draw,
              std::span<const double> frequency)
        : scenario_(scenario),
          box_volume_(box_volume),
          driver_(complete_driver(draw.driver, scenario.acoustics.air)),
          frequency_(frequency) {}

    /// At the seats, of each sub of a set with a neutral setting; z's columns are theirs.
    template <typename Real>
    ByFrequency<Complex> pressure(const RankedSet& set, const TransferImpedance<Real>& z,
                                  std::span<const std::size_t> column) {
        ByFrequency<Complex> pressure(z.frequencies, z.receivers, column.size());
        for (std::size_t k = 0; k < column.size(); ++k) {
            const auto& u = source(set.volumes.empty() ? box_volume_ : set.volumes[k]);
            for (std::size_t f = 0; f < z.frequencies; ++f)
                for (std::size_t s = 0; s < z.receivers; ++s)
                    pressure(f, s, k) = Complex(z.at(f, s, column[k])) * u[f];
        }
        return pressure;
    }

  private:
    const std::vector<Complex>& source(double volume) {
        std::vector<Complex>& out = source_[volume];
        if (out.empty())
            out = volume_velocity(driver_, closed_box(driver_, volume, scenario_.design.filling),
                                  frequency_, scenario_.acoustics.air);
        return out;
    }
    const Scenario& scenario_;
    double box_volume_;
    Driver driver_;
    std::span<const double> frequency_;
    std::map<double, std::vector<Complex>> source_;  ///< by the box's net volume
};

/// The criteria of every set in one draw; `column` of z is which sub of all sets, one after
/// another.
std::vector<Criteria> judge_draw(const Scenario& scenario, double box_volume,
                                 const std::vector<const RankedSet*>& sets, const Draw& draw,
                                 std::span<const double> frequency,
                                 const TransferImpedance<float>& z,
                                 std::span<const std::size_t> column) {
    DrawnSubs subs(scenario, box_volume, draw, frequency);
    const Judge judge(frequency, draw.seats, scenario.judgement.target);
    std::vector<Criteria> out;
    for (const RankedSet* set : sets) {
        const std::size_t count = set->positions.size();
        const SettingsProblem problem(judge, scenario.judgement.weights,
                                      subs.pressure(*set, z, column.first(count)));
        column = column.subspan(count);
        Criteria c = problem.criteria(set->settings);
        c.score = score(c, 0, scenario.judgement.weights);
        out.push_back(c);
    }
    return out;
}

std::vector<std::size_t> one_after_another(const std::vector<const RankedSet*>& sets) {
    std::vector<std::size_t> column;
    for (const RankedSet* set : sets)
        for (std::size_t k = 0; k < set->positions.size(); ++k) column.push_back(column.size());
    return column;
}

/// The frequencies of the band, as indices, where seats differ by the most but 1 dB: a draft is off
/// by less, where they differ by 40 as well.
std::vector<std::size_t> widest_apart(const Judge& judge, const ByFrequency<double>& power) {
    constexpr double near = 1;
    std::vector<double> apart;
    for (int f = judge.first(); f <= judge.last(); ++f) {
        const auto level = levels_db(power.at(f));
        const auto [low, high] = std::minmax_element(level.begin(), level.end());
        apart.push_back(*high - *low);
    }
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < apart.size(); ++i)
        if (apart[i] > std::ranges::max(apart) - near) out.push_back(judge.first() + i);
    return out;
}

/// Of one set in one draw of a rectangle, solved in double precision where it may be.
double exact_largest_difference(const Scenario& scenario, double box_volume, const RankedSet& set,
                                std::size_t number, const JudgedFrequencies& frequencies) {
    const Draw draw = draw_inputs(scenario, static_cast<int>(number));
    const std::vector<double> frequency = frequencies.of(draw.room);
    const auto column = one_after_another({&set});
    DrawnSubs subs(scenario, box_volume, draw, frequency);
    const Judge judge(frequency, draw.seats, scenario.judgement.target);
    const auto power = [&](const auto& z) {
        const SettingsProblem problem(judge, scenario.judgement.weights,
                                      subs.pressure(set, z, column));
        return problem.power(set.settings);
    };
    auto z = drawn_transfer(scenario, {&set}, draw, frequency, modal_transfer_draft);
    const auto at = widest_apart(judge, power(z));
    std::vector<double> there;
    for (const std::size_t f : at) there.push_back(frequency[f]);
    const auto exact = drawn_transfer(scenario, {&set}, draw, there, modal_transfer_shared, 16);
    const std::size_t each = z.receivers * z.sources;
    TransferImpedance<double> mixed(z.frequencies, z.receivers, z.sources);
    std::copy(z.value.begin(), z.value.end(), mixed.value.begin());
    for (std::size_t n = 0; n < at.size(); ++n)
        std::copy_n(&exact.value[n * each], each, &mixed.value[at[n] * each]);
    Criteria c;
    judge.judge_seats(power(mixed), c);
    return c.largest_difference_db;
}

/// Counts the draws that are done, and tells at each hundredth of them.
class DrawCount {
  public:
    DrawCount(std::ptrdiff_t draws, const std::function<void(double, double)>& progress)
        : draws_(draws), progress_(progress) {}

    void add(std::ptrdiff_t more) {
        if (!progress_) return;
        const std::lock_guard lock(mutex_);
        done_ += more;
        if (done_ < told_ + draws_ / 100) return;
        told_ = done_;
        const double share = static_cast<double>(done_) / static_cast<double>(draws_);
        progress_(share, seconds_left(start_, share));
    }

  private:
    std::ptrdiff_t draws_, done_ = 0, told_ = 0;
    const std::function<void(double, double)>& progress_;
    double start_ = seconds_now();
    std::mutex mutex_;
};

using BySetAndDraw = std::vector<std::vector<Criteria>>;  ///< [draw][set]

BySetAndDraw judge_rectangle(const Scenario& scenario, double box_volume,
                             const std::vector<const RankedSet*>& sets,
                             const JudgedFrequencies& frequencies, DrawCount& done) {
    const auto solve =
        draft_will_do(scenario, sets, frequencies) ? modal_transfer_draft : modal_transfer_many;
    const std::vector<std::size_t> column = one_after_another(sets);
    BySetAndDraw judged(scenario.judgement.uncertainty.draws);
    for_each_in_parallel(judged.size(), 1, [&](std::size_t n) {
        const Draw draw = draw_inputs(scenario, static_cast<int>(n));
        const std::vector<double> frequency = frequencies.of(draw.room);
        judged[n] = judge_draw(scenario, box_volume, sets, draw, frequency,
                               drawn_transfer(scenario, sets, draw, frequency, solve), column);
        done.add(1);
    });
    return judged;
}

BySetAndDraw judge_by_elements(const Scenario& scenario, double box_volume,
                               const std::vector<const RankedSet*>& sets,
                               const JudgedFrequencies& frequencies, DrawCount& done) {
    std::vector<DrawnSub> subs;  // different ones once
    std::vector<std::size_t> column;
    for (const RankedSet* set : sets)
        for (int k = 0; k < std::ssize(set->positions); ++k) {
            const DrawnSub sub{set->positions[k], k};
            const auto found = std::ranges::find(subs, sub);
            column.push_back(static_cast<std::size_t>(found - subs.begin()));
            if (found == subs.end()) subs.push_back(sub);
        }
    const std::vector<double> frequency = frequencies.of(scenario.acoustics.room);
    const DrawnRooms rooms(scenario, subs, frequency);
    BySetAndDraw judged(scenario.judgement.uncertainty.draws);
    constexpr std::size_t together = DrawnRooms::together;
    for_each_in_parallel((judged.size() + together - 1) / together, 1, [&](std::size_t n) {
        std::vector<Draw> draws;
        for (std::size_t i = n * together; i < std::min(judged.size(), (n + 1) * together); ++i)
            draws.push_back(draw_inputs(scenario, static_cast<int>(i)));
        const auto z = rooms.transfer(draws);
        for (std::size_t i = 0; i < draws.size(); ++i)
            judged[n * together + i] =
                judge_draw(scenario, box_volume, sets, draws[i], frequency, z[i], column);
        done.add(std::ssize(draws));
    });
    return judged;
}

}  // namespace

JudgedDraws::JudgedDraws(const Scenario& scenario, double box_volume,
                         std::vector<const RankedSet*> sets,
                         const std::function<void(double, double)>& progress)
    : scenario_(scenario),
      box_volume_(box_volume),
      sets_(std::move(sets)),
      frequencies_(scenario),
      exact_(sets_.size()) {
    DrawCount done(scenario.judgement.uncertainty.draws, progress);
    const auto judge = scenario.acoustics.room.is_rectangle() ? judge_rectangle : judge_by_elements;
    criteria_ = judge(scenario, box_volume, sets_, frequencies_, done);
}

std::vector<double> JudgedDraws::all(std::size_t set, double Criteria::*member) const {
    std::vector<double> values;
    for (const auto& draw : criteria_) values.push_back(draw[set].*member);
    return values;
}

double JudgedDraws::percentile(std::size_t set, double Criteria::*member, double share) {
    const double place = share * static_cast<double>(draws() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, draws() - 1);
    std::vector<double> values = all(set, member);
    std::vector<std::size_t> order(draws());
    std::iota(order.begin(), order.end(), 0);
    const auto sort = [&] {
        std::ranges::stable_sort(order, {}, [&](std::size_t n) { return values[n]; });
    };
    sort();
    const bool in_doubt = member == &Criteria::largest_difference_db &&
                          scenario_.acoustics.room.is_rectangle() && scenario_.seats.size() > 1;
    const auto settled = [&](std::size_t draw) {
        if (!in_doubt || !exact_[set].insert(draw).second) return true;
        criteria_[draw][set].*member = values[draw] =
            exact_largest_difference(scenario_, box_volume_, *sets_[set], draw, frequencies_);
        return false;
    };
    while (!settled(order[below]) || !settled(order[above])) sort();
    const double low = values[order[below]], high = values[order[above]];
    return low + (place - static_cast<double>(below)) * (high - low);
}

}  // namespace boxroom
