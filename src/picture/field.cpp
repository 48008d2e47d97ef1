#include "picture/field.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/error.hpp"
#include "picture/colour_map.hpp"

namespace boxroom {

void require_sound(const FloorMap& map) {
    const auto fault = [&](const std::string& what, const std::string& mend) {
        throw Error("floor map '" + map.name + "'", what, mend);
    };
    if (map.nx < 1 || map.ny < 1)
        fault("the grid is empty", "give it at least one point along x and along y");
    const std::size_t points = std::size_t(map.nx) * std::size_t(map.ny);
    if (map.value.size() != points || map.valid.size() != points)
        fault("the grid has " + std::to_string(points) + " points, but there are " +
                  std::to_string(map.value.size()) + " values and " +
                  std::to_string(map.valid.size()) + " validity marks",
              "give one of each for every grid point");
    if (!(map.room_width > 0) || !(map.room_length > 0) || !std::isfinite(map.room_width) ||
        !std::isfinite(map.room_length))
        fault("the room has no size", "set the room's width and length in metres");
    if (!std::isfinite(map.x0) || !std::isfinite(map.y0) || !std::isfinite(map.dx) ||
        !std::isfinite(map.dy))
        fault("the grid's place is not a number", "set its first point and spacing in metres");
}

double safe_spacing(double spacing, double other) {
    if (spacing > 0) return spacing;
    return other > 0 ? other : 0.1;
}

Field::Field(const FloorMap& map) : map_(map), dx_(0), dy_(0), valid_(map.valid) {
    require_sound(map);
    dx_ = safe_spacing(map.dx, map.dy);
    dy_ = safe_spacing(map.dy, map.dx);
    for (std::size_t i = 0; i < valid_.size(); ++i) {
        if (!std::isfinite(map.value[i])) valid_[i] = 0;
        if (valid_[i] != 0) values_.push_back(map.value[i]);
    }
    scale_ = robust_scale(values_);
}

std::optional<double> Field::at(double x, double y) const {
    const double gx = (x - map_.x0) / dx_, gy = (y - map_.y0) / dy_;
    if (!(gx >= -0.5 && gx <= map_.nx - 0.5 && gy >= -0.5 && gy <= map_.ny - 0.5))
        return std::nullopt;
    const double cx = std::clamp(gx, 0.0, map_.nx - 1.0), cy = std::clamp(gy, 0.0, map_.ny - 1.0);
    if (!valid(int(std::lround(cx)), int(std::lround(cy)))) return std::nullopt;
    const int ix = std::min(int(cx), std::max(0, map_.nx - 2)),
              iy = std::min(int(cy), std::max(0, map_.ny - 2));
    double sum = 0, weights = 0;
    for (int j = iy; j <= std::min(iy + 1, map_.ny - 1); ++j) {
        for (int i = ix; i <= std::min(ix + 1, map_.nx - 1); ++i) {
            if (!valid(i, j)) continue;
            const double weight = (1 - std::abs(cx - i)) * (1 - std::abs(cy - j));
            sum += weight * value(i, j);
            weights += weight;
        }
    }
    if (!(weights > 0)) return std::nullopt;
    return sum / weights;
}

Colour Field::colour(double value) const {
    // The heavy, dark end draws the eye on white paper: it belongs to the good end, or to "more".
    // In steps too fine to see (about 0.8 of L*), which make the PNG a good deal smaller.
    constexpr double steps = 96;
    const double position = std::round(steps * scale_.position(value)) / steps;
    return map_colour(map_.low_is_good ? 1 - position : position);
}

std::optional<Field::Extreme> Field::extreme(double sign) const {
    std::optional<Extreme> out;
    for (int iy = 0; iy < map_.ny; ++iy)
        for (int ix = 0; ix < map_.nx; ++ix)
            if (valid(ix, iy) && (!out || sign * value(ix, iy) < sign * out->value))
                out = Extreme{value(ix, iy), x_of(ix), y_of(iy)};
    return out;
}

}  // namespace boxroom
