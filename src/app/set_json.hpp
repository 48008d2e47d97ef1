#pragma once
#include "app/session.hpp"
#include "results/sets.hpp"

namespace boxroom {

nlohmann::ordered_json set_json(const RankedSet& set);
nlohmann::ordered_json ranking_json(const SetRanking& ranking);
std::string ranking_text(const SetRanking& ranking, Units units);
/// Ranked, tuned and drawn 500 times, for each number of subs.
std::vector<SetRanking> rank_counts(Session& session, const ClosedBox& box,
                                    const std::vector<int>& counts);
/// rank for these numbers of subs.
Answer run_rank_sets(Session& session, const std::vector<int>& counts);

}  // namespace boxroom
