#pragma once
#include <optional>
#include <vector>

#include "picture/paper.hpp"

namespace boxroom {

/// Finds room for labels so that none lies on another or on a mark.
class LabelPlacer {
  public:
    /// Labels stay inside `area`.
    explicit LabelPlacer(const Rectangle& area) : area_(area) {}

    void reserve(const Rectangle& where) { taken_.push_back(where); }
    void reserve(const Stroke& stroke);
    bool is_free(const Rectangle& where) const;

    struct Place {
        Rectangle where;
        std::optional<Stroke> leader;  ///< from the mark to the label, where it stands off
    };
    /// Tries places round a mark of the given radius, the nearest first and right, left, above,
    /// below before the slanted ones; reserves what it returns. Nothing if there is no room at all.
    std::optional<Place> beside(Pixel mark, double radius, double width, double height);
    /// The label's centre exactly there, or nothing.
    std::optional<Rectangle> centred(Pixel at, double width, double height);

  private:
    bool crosses_taken(const Stroke& stroke) const;

    Rectangle area_;
    std::vector<Rectangle> taken_;
};

}  // namespace boxroom
