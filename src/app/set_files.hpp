#pragma once
#include "app/session.hpp"
#include "tuning/subs_plan.hpp"

namespace boxroom {

/// sets_<n>_subs.csv and .h5, and the equalisers.
void write_subs(Session& session, const SubsPlan& subs);
/// rank for these numbers of subs.
Answer run_rank_sets(Session& session, const std::vector<int>& counts);

}  // namespace boxroom
