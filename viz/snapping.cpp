#include "viz/snapping.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

constexpr double grace = 1e-4;

struct Range {
    double low, high;
};

/// Where a box's centre may lie between two walls; their middle where the box is too wide.
Range between_walls(double room, double gap, double box) {
    const double low = gap + box / 2, high = room - gap - box / 2;
    return low <= high ? Range{low, high} : Range{room / 2, room / 2};
}

/// The coordinates of all edges along one axis: two walls, and the keep-outs grown by half a box.
std::vector<double> edges(const Range& walls, double box, const std::vector<KeepOut>& keep_outs,
                          bool along_x) {
    std::vector<double> all{walls.low, walls.high};
    for (const KeepOut& k : keep_outs) {
        all.push_back((along_x ? k.x0 : k.y0) - box / 2);
        all.push_back((along_x ? k.x1 : k.y1) + box / 2);
    }
    std::erase_if(all, [&](double e) { return e < walls.low || e > walls.high; });
    return all;
}

double attracted(double value, const std::vector<double>& edges, double magnet) {
    double best = value, nearest = magnet;
    for (double edge : edges)
        if (std::abs(edge - value) <= nearest) nearest = std::abs(edge - value), best = edge;
    return best;
}

}  // namespace

bool box_allowed(const FloorLimits& floor, double box_width, double box_depth, Point at) {
    const Range x = between_walls(floor.width, floor.gap, box_width),
                y = between_walls(floor.length, floor.gap, box_depth);
    if (at.x < x.low - grace || at.x > x.high + grace || at.y < y.low - grace ||
        at.y > y.high + grace)
        return false;
    return std::none_of(floor.keep_outs.begin(), floor.keep_outs.end(), [&](const KeepOut& k) {
        return at.x + box_width / 2 > k.x0 + grace && at.x - box_width / 2 < k.x1 - grace &&
               at.y + box_depth / 2 > k.y0 + grace && at.y - box_depth / 2 < k.y1 - grace;
    });
}

Point snap_box(const FloorLimits& floor, double box_width, double box_depth, Point wanted,
               double magnet) {
    const Range rx = between_walls(floor.width, floor.gap, box_width),
                ry = between_walls(floor.length, floor.gap, box_depth);
    std::vector<double> xs = edges(rx, box_width, floor.keep_outs, true),
                        ys = edges(ry, box_depth, floor.keep_outs, false);
    const Point inside{std::clamp(wanted.x, rx.low, rx.high), std::clamp(wanted.y, ry.low, ry.high),
                       0};
    // 1. Pulled to an edge that is close, where that is allowed.
    const Point pulled{attracted(inside.x, xs, magnet), attracted(inside.y, ys, magnet), 0};
    if (box_allowed(floor, box_width, box_depth, pulled)) return pulled;

    // 2. The nearest allowed point.
    xs.push_back(inside.x);
    ys.push_back(inside.y);
    Point best = inside;
    double nearest = 1e300;
    for (double x : xs)
        for (double y : ys) {
            const double distance = std::hypot(x - wanted.x, y - wanted.y);
            if (distance < nearest && box_allowed(floor, box_width, box_depth, {x, y, 0}))
                nearest = distance, best = {x, y, 0};
        }
    return best;
}

Point keep_distance(const FloorLimits& floor, Point at, double old_width, double old_depth,
                    double new_width, double new_depth) {
    const auto moved = [](double place, double room, double half_growth) {
        return place < room / 2 ? place + half_growth : place - half_growth;
    };
    return {moved(at.x, floor.width, (new_width - old_width) / 2),
            moved(at.y, floor.length, (new_depth - old_depth) / 2), 0};
}

Point snap_seat(const FloorLimits& floor, Point wanted, double margin) {
    const FloorLimits head{floor.width, floor.length, 0, floor.keep_outs};
    const Point at = snap_box(head, 2 * margin, 2 * margin, wanted, 0);
    return {at.x, at.y, wanted.z};
}

}  // namespace boxroom
