#pragma once
#include <string>
#include <vector>

#include "results/comparison.hpp"
#include "room_file/file_difference.hpp"

namespace boxroom {

/// One self-contained HTML page: what differs in the answers, in the curves and in the files.
std::string compare_page(const Comparison& comparison, const std::vector<FileDifference>& files,
                         const std::string& version);

}  // namespace boxroom
