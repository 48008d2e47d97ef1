#pragma once
#include <string>

namespace boxroom {

/// Text of `boxroom explain` that no table of the code holds, in lines for a terminal.
std::string subs_topic();
std::string rooms_topic();
std::string measuring_topic();

}  // namespace boxroom
