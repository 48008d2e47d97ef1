#pragma once
#include <string>

namespace CLI {
class App;
}

namespace boxroom {

/// The manual page boxroom(1), in the man macros of groff (man 7 groff_man), from the same words as
/// --help. `version` is plain text.
std::string manual_page(const CLI::App& app, const std::string& version);
/// A script for bash: commands, and behind each its options, files otherwise.
std::string bash_completion(const CLI::App& app);

}  // namespace boxroom
