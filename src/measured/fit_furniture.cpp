#include "measured/fit_furniture.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "measured/interval.hpp"

namespace boxroom {
namespace {

constexpr double corner_gap = 0.1;  ///< [m]

}  // namespace

bool along_x(int wall) {
    return wall == front_wall || wall == back_wall;
}

double FurnitureNumber::at(double x) const {
    return logarithmic ? centre * std::exp(deviation * x) : centre + deviation * x;
}

double FurnitureNumber::x_of(double value) const {
    return (logarithmic ? std::log(value / centre) : value - centre) / deviation;
}

FurnitureNumber furniture_number(const Room& room, int wall, int number) {
    const double side = along_x(wall) ? room.width : room.length;
    const std::string of = std::string("furniture by the ") + wall_names.at(wall) + " wall, ";
    switch (number) {
        case 0:
            return {of + (along_x(wall) ? "middle from left" : "middle from front"), "m", side / 2,
                    side / std::sqrt(12.0), false};
        case 1:
            return {of + "width", "m", 1.2, 0.45};
        case 2:
            return {of + "depth", "m", 0.55, 0.3};
        case 3:
            return {of + "height", "m", 1.4, 0.42};
        default:
            return {of + "absorption at 63 Hz", "1", 0.1, std::log(3.0) / z90};
    }
}

Block furniture_block(const Room& room, const Air& air, int wall, const Eigen::VectorXd& numbers) {
    std::array<double, furniture_numbers> value{};
    for (int n = 0; n < furniture_numbers; ++n)
        value[n] = furniture_number(room, wall, n).at(numbers(n));
    const double side = along_x(wall) ? room.width : room.length;
    const double across = along_x(wall) ? room.length : room.width;
    const double width = std::clamp(value[1], 0.2, side);
    const double depth = std::clamp(value[2], 0.15, across / 2);
    double height = std::clamp(value[3], 0.2, room.height);
    if (height > room.height - corner_gap) height = room.height;
    double from = std::clamp(value[0] - width / 2, 0.0, side - width), to = from + width;
    if (from < corner_gap) from = 0, to = std::max(width, corner_gap);
    if (to > side - corner_gap) to = side, from = from == 0 ? 0 : side - width;
    const bool far = wall == right_wall || wall == back_wall;
    const double back = far ? across - depth : 0, front = far ? across : depth;
    Block block;
    block.name = "inferred furniture";
    block.from = along_x(wall) ? Point{from, back, 0} : Point{back, from, 0};
    block.to = along_x(wall) ? Point{to, front, height} : Point{front, to, height};
    block.surface = {block.name, wall_from_absorption(std::clamp(value[4], 0.005, 0.9), air), ""};
    return block;
}

std::vector<FurnitureTry> furniture_to_try(const Room& room) {
    // Wardrobe, sideboard or sofa, tall and narrow.
    constexpr double kinds[][3] = {{1.2, 0.6, 2.0}, {1.7, 0.7, 0.8}, {0.6, 0.5, 1.8}};
    std::vector<FurnitureTry> all;
    for (const int wall : {left_wall, right_wall, front_wall, back_wall}) {
        const double side = along_x(wall) ? room.width : room.length;
        for (const auto& kind : kinds) {
            const double way = side - kind[0];
            if (way < 0) continue;
            const int steps = std::max(1, static_cast<int>(std::lround(way / 0.7)));
            for (int n = 0; n <= steps; ++n) {
                FurnitureTry one{wall, Eigen::VectorXd::Zero(furniture_numbers)};
                const double value[] = {kind[0] / 2 + way * n / steps, kind[0], kind[1],
                                        std::min(kind[2], room.height)};
                for (int i = 0; i < 4; ++i)
                    one.numbers(i) = furniture_number(room, wall, i).x_of(value[i]);
                all.push_back(std::move(one));
            }
        }
    }
    return all;
}

}  // namespace boxroom
