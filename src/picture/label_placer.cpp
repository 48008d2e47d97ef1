#include "picture/label_placer.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace boxroom {
namespace {

constexpr double clearance = 3;  ///< kept free round every label [px]

/// Steps along a stroke, 4 px apart.
template <class Visit>
bool any_along(const Stroke& s, Visit visit) {
    const int steps = std::max(1, int(std::hypot(s.to.x - s.from.x, s.to.y - s.from.y) / 4));
    for (int i = 0; i <= steps; ++i) {
        const double t = double(i) / steps;
        if (visit(Pixel{s.from.x + t * (s.to.x - s.from.x), s.from.y + t * (s.to.y - s.from.y)}))
            return true;
    }
    return false;
}

Rectangle around(Pixel p, double half) {
    return {p.x - half, p.y - half, 2 * half, 2 * half};
}

}  // namespace

void LabelPlacer::reserve(const Stroke& stroke) {
    any_along(stroke, [this](Pixel p) {
        reserve(around(p, 2));
        return false;
    });
}

bool LabelPlacer::is_free(const Rectangle& where) const {
    if (!area_.holds(where)) return false;
    const Rectangle wide = where.grown(clearance);
    return std::none_of(taken_.begin(), taken_.end(),
                        [&](const Rectangle& other) { return wide.overlaps(other); });
}

bool LabelPlacer::crosses_taken(const Stroke& stroke) const {
    return any_along(stroke, [this](Pixel p) {
        const Rectangle dot = around(p, 1);
        return std::any_of(taken_.begin(), taken_.end(),
                           [&](const Rectangle& r) { return dot.overlaps(r); });
    });
}

std::optional<LabelPlacer::Place> LabelPlacer::beside(Pixel mark, double radius, double width,
                                                      double height) {
    // Right, left, above, below, then the slanted directions.
    constexpr std::array<double, 16> degrees{0,   180, -90,  90,  -45, 45, -135, 135,
                                             -22, 22,  -158, 158, -68, 68, -112, 112};
    for (const double gap :
         {5.0, 12.0, 22.0, 36.0, 55.0, 80.0, 110.0, 150.0, 200.0, 260.0, 340.0, 450.0}) {
        for (const double degree : degrees) {
            const double c = std::cos(degree * M_PI / 180), s = std::sin(degree * M_PI / 180);
            // The label's nearest edge (seen along either axis) stands `gap` from the mark.
            const double x = mark.x + c * (radius + gap + width / 2),
                         y = mark.y + s * (radius + gap + height / 2);
            const Rectangle where{x - width / 2, y - height / 2, width, height};
            if (!is_free(where)) continue;
            Place place{where, std::nullopt};
            const Pixel end{std::clamp(mark.x, where.x, where.right()),
                            std::clamp(mark.y, where.y, where.bottom())};
            const double length = std::hypot(end.x - mark.x, end.y - mark.y);
            if (length > radius + 16) {
                const double start = (radius + 4) / length;
                const Stroke leader{
                    {mark.x + start * (end.x - mark.x), mark.y + start * (end.y - mark.y)}, end};
                if (crosses_taken(leader)) continue;
                place.leader = leader;
                reserve(leader);
            }
            reserve(where);
            return place;
        }
    }
    return std::nullopt;
}

std::optional<Rectangle> LabelPlacer::centred(Pixel at, double width, double height) {
    const Rectangle where{at.x - width / 2, at.y - height / 2, width, height};
    if (!is_free(where)) return std::nullopt;
    reserve(where);
    return where;
}

}  // namespace boxroom
