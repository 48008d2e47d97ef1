#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "solvers/room.hpp"

namespace boxroom {

/// Whether a wall runs from left to right, else from front to back.
bool along_x(int wall);

/// What tells a piece of furniture that stands on the floor against a wall: where its middle is
/// along the wall, width, depth, height, and what its surface absorbs.
inline constexpr int furniture_numbers = 5;

/// One of them, as a number x whose prior is normal with mean 0 and variance 1.
struct FurnitureNumber {
    std::string name, unit;
    double centre = 0;     ///< for x = 0
    double deviation = 1;  ///< in the unit, or in the logarithm
    bool logarithmic = true;
    double at(double x) const;
    double x_of(double value) const;
};

/// The priors (common practice of furniture makers: wardrobes 0.6 m deep and 1.8 to 2.4 m high,
/// bookcases 0.3 to 0.4 m, sideboards 0.45 m and 0.8 m high, sofas 0.9 m and 0.8 m high, 0.6 to 2.4
/// m wide), in 90 % of cases: width 0.6 to 2.5 m, depth 0.3 to 0.9 m, height 0.7 to 2.8 m,
/// absorption 0.03 to 0.3; anywhere along the wall.
FurnitureNumber furniture_number(const Room& room, int wall, int number);

/// The block that these numbers say, within the room. Nearer to a corner than 0.1 m it stands in
/// it.
Block furniture_block(const Room& room, const Air& air, int wall, const Eigen::VectorXd& numbers);

/// The numbers of pieces to try first: places along every wall, a few kinds.
struct FurnitureTry {
    int wall = 0;
    Eigen::VectorXd numbers;
};
std::vector<FurnitureTry> furniture_to_try(const Room& room);

}  // namespace boxroom
