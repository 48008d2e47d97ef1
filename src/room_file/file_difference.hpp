#pragma once
#include <string>
#include <vector>

namespace boxroom {

/// A key that two room files have different values for; a value is empty where one lacks it.
struct FileDifference {
    std::string key;  ///< "box.volume"; "sub 2, at"
    std::string first, second;
};

/// Key by key, in the order of the first file, then what only the second has; comments, the order of
/// keys and how a number is spelled in TOML do not count, nor does the title. Throws Error if a text
/// is no TOML.
std::vector<FileDifference> file_differences(const std::string& first, const std::string& second);

}  // namespace boxroom
