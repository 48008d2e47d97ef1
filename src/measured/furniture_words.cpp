#include "measured/furniture_words.hpp"

namespace boxroom {
namespace {

/// The interval of one of the furniture's numbers; none where there is no furniture.
Interval found_of(const RoomFit& fit, int number) {
    int at = 0;
    for (const FittedParameter& p : fit.parameters)
        if (p.kind == FitParameter::Kind::furniture && at++ == number) return p.found;
    return {};
}

}  // namespace

std::string furniture_words(const RoomFit& fit, Units units) {
    if (!fit.furniture_looked_for)
        return "Furniture that the file lacks was not looked for: `boxroom fit` does so in a "
               "rectangle with nothing in it.";
    if (!fit.furniture)
        return "Furniture that the file lacks was looked for along the walls; the recordings ask "
               "for none.";
    const Block& block = fit.furniture->block;
    const auto length = [units](double metres) { return format_length(metres, units); };
    const auto between = [&](int number) {
        const Interval found = found_of(fit, number);
        return length(found.low) + " to " + length(found.high);
    };
    const int wall = fit.furniture->wall;
    const double x = block.to.x - block.from.x, y = block.to.y - block.from.y;
    const double width = along_x(wall) ? x : y, depth = along_x(wall) ? y : x;
    const double middle =
        along_x(wall) ? (block.from.x + block.to.x) / 2 : (block.from.y + block.to.y) / 2;
    return "Something about " + length(width) + " by " + length(depth) + " and " +
           length(block.to.z) + " high seems to stand by the " + wall_names[wall] +
           " wall, its middle " + length(middle) + " from the " +
           (along_x(wall) ? "left" : "front") +
           "; the file has nothing there. 90 % intervals: width " + between(1) + ", depth " +
           between(2) + ", height " + between(3) + ", middle " + between(0) + ".";
}

}  // namespace boxroom
