#pragma once
#include <string>

#include "files/results_file.hpp"
#include "results/sets.hpp"

namespace boxroom {

/// /spots/* of rank.h5 with settings (N,K), what the equaliser leaves, and wins: the file's bytes.
std::string set_ranking_hdf5(const SetRanking&, const Provenance&);

}  // namespace boxroom
