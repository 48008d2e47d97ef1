#pragma once
#include <vector>

#include "room_file/read_context.hpp"

namespace boxroom {

/// [score]
ScoreWeights read_score(TableReader& file, const ReadContext& context);

/// [analysis]: what is calculated.
struct Analysis {
    std::vector<double> frequency;  ///< [Hz]
    Band band{10, 200};             ///< of the points, unless they are listed
    bool listed = false, cone_load = false;
    bool resolved = false;  ///< nothing says the points: more round the modes
    bool good = true;       ///< else the target cannot be held against it
    int line = 1;           ///< of what says the points
};
Analysis read_analysis(TableReader& file);
/// [target]: must lie in what is analysed; in a band the whole of it, in a list one point.
Target read_target(TableReader& file, const Analysis& analysis, const ReadContext& context);

}  // namespace boxroom
