#pragma once
#include "answers/inquiry.hpp"
#include "results/sets.hpp"
#include "tuning/subs_plan.hpp"

namespace boxroom {

nlohmann::ordered_json set_json(const RankedSet& set);
nlohmann::ordered_json ranking_json(const SetRanking& ranking);
std::string ranking_text(const SetRanking& ranking, Units units);
/// The numbers of subs the command line or the file asks about: 1 to --subs, or [search] subs;
/// empty for neither.
std::vector<int> plan_counts(const Inquiry& inquiry);
/// by_subs, trade_off, how_many, advised_subs; and the table for people.
void add_subs(Answer& answer, const SubsPlan& plan);

}  // namespace boxroom
