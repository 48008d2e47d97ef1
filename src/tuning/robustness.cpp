#include "tuning/robustness.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <mutex>
#include <optional>

#include "base/clock.hpp"
#include "base/parallel.hpp"
#include "base/time_left.hpp"
#include "placement/analysis_grid.hpp"
#include "results/criterion.hpp"
#include "solvers/modal_drafts.hpp"
#include "tuning/drawn_rooms.hpp"
#include "tuning/settings.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

/// The value that this share of the sorted values lies below, between neighbours in proportion.
double quantile(const std::vector<double>& sorted, double share) {
    const double place = share * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    return sorted[below] + (place - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

/// The frequencies that a criterion looks at: up to half an octave above the band, which smoothing
/// draws in, and a point more. The ones above cost most. Further below only the reach looks, at a
/// curve that is smooth there: every 1/24 octave will do. Where the modes have more points round
/// them, those of the room as drawn have.
class JudgedFrequencies {
  public:
    explicit JudgedFrequencies(const Scenario& scenario)
        : nominal_(scenario.acoustics.frequency), band_(scenario.judgement.target.band) {
        if (scenario.acoustics.resolved && scenario.acoustics.room.is_rectangle())
            grids_.emplace(scenario.acoustics.room, scenario.acoustics.air,
                           Band{nominal_.front(), std::min(nominal_.back(), 1.6 * band_.high)},
                           band_);
    }
    std::vector<double> of(const Room& drawn) const {
        std::vector<double> frequency;
        for (const double f : grids_ ? grids_->of(drawn) : nominal_) {
            const bool below = f < band_.low / std::sqrt(2.1);
            if (below && !frequency.empty() && f < frequency.back() * std::exp2(0.99 / 24))
                continue;
            frequency.push_back(f);
            if (f > 1.5 * band_.high) break;
        }
        return frequency;
    }

  private:
    const std::vector<double>& nominal_;
    Band band_;
    std::optional<NearbyGrids> grids_;
};

/// All boxes of all sets, one after another, at the seats of one draw.
TransferImpedance<float> drawn_transfer(const Scenario& scenario,
                                        const std::vector<const RankedSet*>& sets, const Draw& draw,
                                        std::span<const double> frequency, bool draft) {
    std::vector<Point> sources;
    for (const RankedSet* set : sets)
        for (std::size_t k = 0; k < set->positions.size(); ++k)
            sources.push_back(
                moved(set->positions[k], scenario.acoustics.room, draw.room, draw.shift[k]));
    const auto solve = draft ? modal_transfer_draft : modal_transfer_many;
    return solve(draw.room, scenario.acoustics.air, frequency, sources, places_of(draw.seats), 9);
}

/// Whether a draft is as good in the first few draws: to 2e-4 of the mean pressure, 0.002 dB, at
/// every frequency.
bool draft_will_do(const Scenario& scenario, const std::vector<const RankedSet*>& sets,
                   const JudgedFrequencies& judged) {
    constexpr double close = 2e-4;
    for (int n = 0; n < std::min(3, scenario.judgement.uncertainty.draws); ++n) {
        const Draw draw = draw_inputs(scenario, n);
        const std::vector<double> frequency = judged.of(draw.room);
        const auto z = drawn_transfer(scenario, sets, draw, frequency, false),
                   quick = drawn_transfer(scenario, sets, draw, frequency, true);
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

/// The criteria of every set in one draw; `column` of z is which sub of all sets, one after
/// another.
std::vector<Criteria> judge_draw(const Scenario& scenario, double box_volume,
                                 const std::vector<const RankedSet*>& sets, const Draw& draw,
                                 std::span<const double> frequency,
                                 const TransferImpedance<float>& z,
                                 const std::vector<std::size_t>& column) {
    const Driver driver = complete_driver(draw.driver, scenario.acoustics.air);
    std::map<double, std::vector<Complex>> source;  // by the box's net volume
    const auto u = [&](double volume) -> const std::vector<Complex>& {
        std::vector<Complex>& out = source[volume];
        if (out.empty())
            out = volume_velocity(driver, closed_box(driver, volume, scenario.design.filling),
                                  frequency, scenario.acoustics.air);
        return out;
    };
    const Judge judge(frequency, draw.seats, scenario.judgement.target);
    std::vector<Criteria> out;
    std::size_t first = 0;
    for (const RankedSet* set : sets) {
        const std::size_t subs = set->positions.size();
        std::vector<const std::vector<Complex>*> own;
        for (std::size_t k = 0; k < subs; ++k)
            own.push_back(&u(set->volumes.empty() ? box_volume : set->volumes[k]));
        ByFrequency<Complex> pressure(z.frequencies, z.receivers, subs);
        for (std::size_t f = 0; f < z.frequencies; ++f)
            for (std::size_t s = 0; s < z.receivers; ++s)
                for (std::size_t k = 0; k < subs; ++k)
                    pressure(f, s, k) = Complex(z.at(f, s, column[first + k])) * (*own[k])[f];
        first += subs;
        const SettingsProblem problem(judge, scenario.judgement.weights, pressure);
        Criteria c = problem.criteria(set->settings);
        c.score = score(c, 0, scenario.judgement.weights);
        out.push_back(c);
    }
    return out;
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

std::vector<std::vector<Criteria>> judge_rectangle(const Scenario& scenario, double box_volume,
                                                   const std::vector<const RankedSet*>& sets,
                                                   DrawCount& done) {
    const JudgedFrequencies frequencies(scenario);
    const bool draft = draft_will_do(scenario, sets, frequencies);
    std::vector<std::size_t> column;
    for (const RankedSet* set : sets)
        for (std::size_t k = 0; k < set->positions.size(); ++k) column.push_back(column.size());
    std::vector<std::vector<Criteria>> judged(scenario.judgement.uncertainty.draws);
    for_each_in_parallel(judged.size(), 1, [&](std::size_t n) {
        const Draw draw = draw_inputs(scenario, static_cast<int>(n));
        const std::vector<double> frequency = frequencies.of(draw.room);
        judged[n] = judge_draw(scenario, box_volume, sets, draw, frequency,
                               drawn_transfer(scenario, sets, draw, frequency, draft), column);
        done.add(1);
    });
    return judged;
}

std::vector<std::vector<Criteria>> judge_by_elements(const Scenario& scenario, double box_volume,
                                                     const std::vector<const RankedSet*>& sets,
                                                     DrawCount& done) {
    std::vector<DrawnSub> subs;  // different ones once
    std::vector<std::size_t> column;
    for (const RankedSet* set : sets)
        for (int k = 0; k < std::ssize(set->positions); ++k) {
            const DrawnSub sub{set->positions[k], k};
            const auto found = std::ranges::find(subs, sub);
            column.push_back(static_cast<std::size_t>(found - subs.begin()));
            if (found == subs.end()) subs.push_back(sub);
        }
    const std::vector<double> frequency = JudgedFrequencies(scenario).of(scenario.acoustics.room);
    const DrawnRooms rooms(scenario, subs, frequency);
    std::vector<std::vector<Criteria>> judged(scenario.judgement.uncertainty.draws);
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

std::string percent(double share) {
    char text[16];
    std::snprintf(text, sizeof text, "%.0f %%", 100 * share);
    return text;
}

/// The robust choice, and how clear it is: two shares of wins of the same draws differ by chance by
/// sqrt((p + q - (p - q)^2)/N) (multinomial).
void choose(SetRanking& ranking, int count, int draws) {
    int first = 0, second = -1;
    const auto wins = [&](int n) { return ranking.sets[n].robustness.share_of_wins; };
    for (int n = 1; n < count; ++n)
        if (wins(n) > wins(first) + 1e-12) first = n;
    for (int n = 0; n < count; ++n)
        if (n != first && (second < 0 || wins(n) > wins(second))) second = n;
    const auto rank = [](int n) { return "rank " + std::to_string(n + 1); };
    const auto say = [&](std::string text) {
        text[0] = 'R';
        ranking.reason = text;
    };
    ranking.choice = first;
    const std::string of = " of " + std::to_string(draws) + " draws of inputs that may be wrong";
    if (second < 0) return say(rank(first) + " was judged alone in" + of.substr(3) + ".");
    const double p = wins(first), q = wins(second);
    const double chance = std::sqrt(std::max(0.0, p + q - (p - q) * (p - q)) / draws);
    std::string text = rank(first) + " comes out best in " + percent(p) + of;
    if (p - q >= std::max(2 * chance, 0.05))
        return say(text + ", more often than any other; " + rank(second) + " does in " +
                   percent(q) + ".");
    ranking.tie = std::max(first, second);
    ranking.choice = std::min(first, second);  // a tie goes to the better nominal score
    say(text + ", " + rank(second) + " in " + percent(q) +
        ": a tie, so take whichever is easier to live with.");
}

int counted(const SetRanking& ranking, int most) {
    return std::min(most, static_cast<int>(ranking.sets.size()));
}

/// Wins and ranges of `count` sets, which are judged[draw][first ...].
void summarise(const std::vector<std::vector<Criteria>>& judged, int first, int count,
               SetRanking& ranking) {
    std::vector<int> wins(count, 0);
    for (const auto& criteria : judged) {
        const auto begin = criteria.begin() + first;
        const auto best = std::min_element(
            begin, begin + count,
            [](const Criteria& a, const Criteria& b) { return a.score < b.score; });
        ++wins[best - begin];
    }
    for (int n = 0; n < count; ++n) {
        const auto all = [&](double Criteria::*member) {
            std::vector<double> values;
            for (const auto& criteria : judged) values.push_back(criteria[first + n].*member);
            return values;
        };
        Robustness& r = ranking.sets[n].robustness;
        r.known = true;
        r.share_of_wins = static_cast<double>(wins[n]) / static_cast<double>(judged.size());
        r.spread_of_draw = all(&Criteria::spread_db);
        for (const Criterion& c : criterion_table) {
            std::vector<double> values = all(c.member);
            std::ranges::sort(values);
            r.low.*c.member = quantile(values, 0.1);
            r.middle.*c.member = quantile(values, 0.5);
            r.high.*c.member = quantile(values, 0.9);
        }
    }
}

}  // namespace

void judge_robustness(const Scenario& scenario, double box_volume,
                      const std::vector<SetRanking*>& rankings, int most, Timings& timings,
                      const std::function<void(double, double)>& progress) {
    const double start = seconds_now();
    const int draws = scenario.judgement.uncertainty.draws;
    std::vector<const RankedSet*> sets;
    for (const SetRanking* ranking : rankings)
        for (int n = 0; n < counted(*ranking, most); ++n) sets.push_back(&ranking->sets[n]);
    if (sets.empty() || draws == 0) return;
    if (scenario.acoustics.solver.solver == RoomSolver::grid) {
        for (SetRanking* ranking : rankings)
            ranking->reason =
                "Wrong inputs were not tried (not drawn): on a grid each draw would take seconds.";
        return;
    }
    DrawCount done(draws, progress);
    const auto judged = scenario.acoustics.room.is_rectangle()
                            ? judge_rectangle(scenario, box_volume, sets, done)
                            : judge_by_elements(scenario, box_volume, sets, done);
    int first = 0;
    for (SetRanking* ranking : rankings) {
        const int count = counted(*ranking, most);
        summarise(judged, first, count, *ranking);
        if (count > 0) choose(*ranking, count, draws);
        if (count > 0 && !scenario.acoustics.room.is_rectangle())
            ranking->reason += " The room's size was taken as it is.";
        first += count;
    }
    timings["robustness"] += seconds_now() - start;
}

}  // namespace boxroom
