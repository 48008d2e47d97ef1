#include "tuning/robustness.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/clock.hpp"
#include "base/parallel.hpp"
#include "results/criterion.hpp"
#include "tuning/judged_draws.hpp"

namespace boxroom {
namespace {

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

/// Wins and ranges of `count` of the sets that were judged, from `first` on.
void summarise(JudgedDraws& judged, std::size_t first, int count, SetRanking& ranking) {
    std::vector<int> wins(count, 0);
    for (std::size_t draw = 0; draw < judged.draws(); ++draw) {
        int best = 0;
        for (int n = 1; n < count; ++n)
            if (judged.of(draw, first + n).score < judged.of(draw, first + best).score) best = n;
        ++wins[best];
    }
    for_each_in_parallel(count, 1, [&](std::size_t n) {
        Robustness& r = ranking.sets[n].robustness;
        r.known = true;
        r.share_of_wins = static_cast<double>(wins[n]) / static_cast<double>(judged.draws());
        r.spread_of_draw = judged.all(first + n, &Criteria::spread_db);
        for (const Criterion& c : criterion_table) {
            r.low.*c.member = judged.percentile(first + n, c.member, 0.1);
            r.middle.*c.member = judged.percentile(first + n, c.member, 0.5);
            r.high.*c.member = judged.percentile(first + n, c.member, 0.9);
        }
    });
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
    JudgedDraws judged(scenario, box_volume, sets, progress);
    std::size_t first = 0;
    for (SetRanking* ranking : rankings) {
        const int count = counted(*ranking, most);
        summarise(judged, first, count, *ranking);
        if (count > 0) choose(*ranking, count, draws);
        if (count > 0 && !scenario.acoustics.room.is_rectangle())
            ranking->reason += " The room's size was taken as it is.";
        first += static_cast<std::size_t>(count);
    }
    timings["robustness"] += seconds_now() - start;
}

}  // namespace boxroom
