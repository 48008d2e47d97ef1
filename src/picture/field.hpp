#pragma once
#include <optional>
#include <vector>

#include "picture/paper.hpp"
#include "picture/scale.hpp"
#include "results/floor_map.hpp"

namespace boxroom {

/// The values of a floor map as a continuous field over the floor. Every grid point stands for the
/// cell of half a spacing round it; between valid points the field is bilinear, and towards points
/// that are not valid the remaining weights are scaled up, so that it ends on whole cells.
class Field {
  public:
    /// Throws Error if the map's arrays do not have nx x ny entries or the room has no size. Keeps
    /// a reference to the map.
    explicit Field(const FloorMap& map);

    /// The value at a place [m] from the left and front walls; nothing where there is none.
    std::optional<double> at(double x, double y) const;
    bool valid(int ix, int iy) const { return valid_[index(ix, iy)] != 0; }
    double value(int ix, int iy) const { return map_.value[index(ix, iy)]; }
    double x_of(double ix) const { return map_.x0 + ix * dx_; }
    double y_of(double iy) const { return map_.y0 + iy * dy_; }

    const std::vector<double>& valid_values() const { return values_; }
    const Scale& scale() const { return scale_; }
    Colour colour(double value) const;

    struct Extreme {
        double value, x, y;
    };
    /// The smallest and the largest valid value and where they are; nothing if no value is valid.
    std::optional<Extreme> smallest() const { return extreme(1); }
    std::optional<Extreme> largest() const { return extreme(-1); }

  private:
    std::size_t index(int ix, int iy) const {
        return std::size_t(iy) * std::size_t(map_.nx) + std::size_t(ix);
    }
    std::optional<Extreme> extreme(double sign) const;

    const FloorMap& map_;
    double dx_, dy_;
    std::vector<std::uint8_t> valid_;  ///< valid and finite
    std::vector<double> values_;
    Scale scale_;
};

/// Grid spacing that is safe to divide by: a map one point wide may come with no spacing there.
double safe_spacing(double spacing, double other);

/// Throws Error if the map cannot be drawn or written.
void require_sound(const FloorMap& map);

}  // namespace boxroom
