#pragma once
#include <optional>
#include <string>
#include <vector>

#include "results/plan.hpp"

namespace boxroom {

/// What one of several drivers comes to, in the box that the rule gives it at its best spot.
struct DriverRow {
    std::string name;
    BoxOption box;
    double reach_hz = 0;
    std::optional<double> price;
    std::string trouble;  ///< why it was left out; empty where it was not
};

/// Drivers against each other.
struct DriverTable {
    std::vector<DriverRow> rows;  ///< as the file has them
    int chosen = -1;
    std::string why;  ///< in one sentence
};

}  // namespace boxroom
