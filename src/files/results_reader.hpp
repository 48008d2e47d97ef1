#pragma once
#include <string>
#include <vector>

#include "files/hdf5_pieces.hpp"
#include "results/listening.hpp"

namespace boxroom {

/// All that a listening may hold, of listen.h5 or under /at_build of plan.h5.
std::vector<std::string> listening_names();
/// The listening in what was taken out of a results file, which may be anything: sizes, kinds and
/// numbers that do not go together are an Error at `where`.
Listening listening_of(const Hdf5Pieces& pieces, const std::string& where);

}  // namespace boxroom
