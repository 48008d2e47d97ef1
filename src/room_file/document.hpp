#pragma once
#include <map>
#include <string>

namespace boxroom {

/// A room file as the page's form sees it: values as they are written, and where they stand.
struct TomlDocument {
    std::string json;                  ///< the tables, values as written ("4.10 m" stays a text)
    std::map<std::string, int> lines;  ///< of each value and table by its path: "seat[0].at[1]"
    std::map<std::string, double> lengths;  ///< [m] of each value that could be one, by its path
};

/// Throws Error as parse_toml does; what the values mean is not looked at.
TomlDocument toml_document(const std::string& text, const std::string& name);

}  // namespace boxroom
