// rank and plan with several subs.
#include <fmt/format.h>

#include "answers/set_output.hpp"
#include "app/set_files.hpp"
#include "files/set_results.hpp"
#include "files/set_tables.hpp"
#include "placement/floor_need.hpp"
#include "tuning/robustness.hpp"
#include "tuning/set_ranking.hpp"

namespace boxroom {

void write_subs(Session& session, const SubsPlan& subs) {
    for (const SubsOption& option : subs.options) {
        const std::string name = fmt::format("_{}_subs", option.subs());
        const auto& filters = option.chosen().equaliser;
        session.results.write("sets" + name + ".h5",
                              set_ranking_hdf5(option.ranking, session.provenance()));
        session.results.write("sets" + name + ".csv", sets_csv(option.ranking));
        session.results.write("equaliser" + name + ".csv", equaliser_csv(filters));
        session.results.write("equaliser" + name + ".json", equaliser_json(filters));
    }
}

/// Ranked, tuned and drawn 500 times, for each number of subs.
static std::vector<SetRanking> rank_counts(Session& session, const ClosedBox& box,
                                           const std::vector<int>& counts) {
    std::vector<SetRanking> rankings;
    SetRanker ranker(session.scenario, session.driver, box, session.timings);
    for (const int subs : counts) {
        session.say(fmt::format("{} sub{}: searching", subs, subs > 1 ? "s" : ""),
                    0.2 + 0.4 * rankings.size() / counts.size());
        rankings.push_back(ranker.rank(subs));
    }
    session.say("drawing uncertain inputs", 0.6);
    std::vector<SetRanking*> all;
    for (SetRanking& ranking : rankings) all.push_back(&ranking);
    judge_robustness(session.scenario, box.volume, all, 10, session.timings,
                     [&session](double share, double left) {
                         session.say("drawing uncertain inputs", 0.6 + 0.3 * share, left);
                     });
    return rankings;
}

static void write_sets(Session& session, const SetRanking& ranking) {
    const double start = seconds_now();
    session.results.write("rank.h5", set_ranking_hdf5(ranking, session.provenance()));
    session.results.write("rank.csv", sets_csv(ranking));
    const RankedSet& best = ranking.sets[ranking.choice];
    session.results.write("equaliser.csv", equaliser_csv(best.equaliser));
    session.results.write("equaliser.json", equaliser_json(best.equaliser));
    session.timings["write"] += seconds_now() - start;
}

Answer run_rank_sets(Session& session, const std::vector<int>& counts) {
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    require_memory_for_floor(session.scenario, box, FloorSearch::many_subs,
                             1e9 * session.request.memory);
    const auto rankings = rank_counts(session, box, counts);
    write_sets(session, rankings.back());
    Answer answer;
    std::vector<std::string> mixed;  // the sizes a box may have, where the file names some
    for (const double volume : session.scenario.wanted.set_volumes) {
        answer.json["volumes_l"].push_back(volume * 1e3);
        mixed.push_back(format_volume(volume, session.request.units));
    }
    if (mixed.empty()) answer.json["box"] = {{"volume_l", box.volume * 1e3}, {"qtc", box.qtc}};
    answer.json.update(ranking_json(rankings.back()));
    if (rankings.size() > 1) {
        answer.json["by_subs"] = nlohmann::ordered_json::array();
        for (const SetRanking& ranking : rankings)
            answer.json["by_subs"].push_back(ranking_json(ranking));
    }
    answer.text = mixed.empty() ? fmt::format("box {} (Qtc {:.2f}), {} of it\n",
                                              format_volume(box.volume, session.request.units),
                                              box.qtc, fmt::join(counts, ", "))
                                : fmt::format("boxes of {}, {} of them\n", fmt::join(mixed, " or "),
                                              fmt::join(counts, ", "));
    for (const SetRanking& ranking : rankings)
        answer.text += ranking_text(ranking, session.request.units);
    answer.text += "Equaliser and tables in " + session.folder().string() + "\n";
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
