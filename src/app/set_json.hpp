#pragma once
#include "app/session.hpp"
#include "results/sets.hpp"
#include "tuning/subs_plan.hpp"

namespace boxroom {

nlohmann::ordered_json set_json(const RankedSet& set);
nlohmann::ordered_json ranking_json(const SetRanking& ranking);
std::string ranking_text(const SetRanking& ranking, Units units);
/// Ranked, tuned and drawn 500 times, for each number of subs.
std::vector<SetRanking> rank_counts(Session& session, const ClosedBox& box,
                                    const std::vector<int>& counts);
/// The numbers of subs the command line or the file asks about: 1 to --subs, or [search] subs;
/// empty for neither.
std::vector<int> plan_counts(const Session& session);
/// sets_<n>_subs.csv and .h5, and the equalisers.
void write_subs(Session& session, const SubsPlan& subs);
/// by_subs, trade_off, how_many, advised_subs; and the table for people.
void add_subs(Answer& answer, const SubsPlan& plan);
/// rank for these numbers of subs.
Answer run_rank_sets(Session& session, const std::vector<int>& counts);

}  // namespace boxroom
