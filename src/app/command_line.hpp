#pragma once
#include <functional>
#include <string>

namespace boxroom {

/// Hands an answer to standard output; returns the program's exit status.
using Saying = std::function<int(const std::string&)>;

/// Does what the words of a command line ask for (DESIGN section 4). The answer, a help page or the
/// version goes to `say`, everything else to standard error. Returns the exit status: what `say`
/// returned, 2 where the command line or a file is wrong, or 1. Throws nothing.
int run_command_line(int argc, char** argv, const Saying& say);

}  // namespace boxroom
