#include "viz/outline.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {
namespace {

constexpr double hair = 1e-7, longest_step = 0.1;  // [m]

using Pieces = std::vector<std::pair<double, double>>;

/// The y between which the outline has no corner, at most one step apart.
std::vector<double> rows(const std::vector<Point>& outline) {
    std::vector<double> corner;
    for (const Point& p : outline) corner.push_back(p.y);
    std::sort(corner.begin(), corner.end());
    const bool straight = [&] {
        for (std::size_t i = 0; i < outline.size(); ++i) {
            const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
            if (std::abs(a.x - b.x) > hair && std::abs(a.y - b.y) > hair) return false;
        }
        return true;
    }();
    std::vector<double> all;
    for (std::size_t i = 0; i + 1 < corner.size(); ++i) {
        const double high = corner[i + 1] - corner[i];
        if (high < 2 * hair) continue;
        const int steps = straight ? 1 : static_cast<int>(std::ceil(high / longest_step));
        for (int n = 0; n < steps; ++n) all.push_back(corner[i] + high * n / steps);
    }
    all.push_back(corner.back());
    return all;
}

/// What is in both; both have no piece that touches the next.
Pieces common(const Pieces& a, const Pieces& b) {
    Pieces out;
    for (const auto& [low, high] : a)
        for (const auto& [from, to] : b)
            if (std::max(low, from) < std::min(high, to))
                out.push_back({std::max(low, from), std::min(high, to)});
    return out;
}

}  // namespace

Pieces inside_outline(const std::vector<Point>& outline, double at, bool along_y) {
    std::vector<double> crossing;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        const double a0 = along_y ? a.x : a.y, b0 = along_y ? b.x : b.y;
        const double a1 = along_y ? a.y : a.x, b1 = along_y ? b.y : b.x;
        if ((a0 > at) != (b0 > at)) crossing.push_back(a1 + (at - a0) / (b0 - a0) * (b1 - a1));
    }
    std::sort(crossing.begin(), crossing.end());
    Pieces out;
    for (std::size_t i = 0; i + 1 < crossing.size(); i += 2)
        out.push_back({crossing[i], crossing[i + 1]});
    return out;
}

std::vector<KeepOut> outside_outline(const std::vector<Point>& outline, double width,
                                     double length) {
    std::vector<KeepOut> out;
    if (outline.empty()) return out;
    const auto block = [&](double x0, double y0, double x1, double y1) {
        if (x1 - x0 > 2 * hair && y1 - y0 > 2 * hair) out.push_back({"", x0, y0, x1, y1});
    };
    const std::vector<double> row = rows(outline);
    block(0, 0, width, row.front());
    for (std::size_t i = 0; i + 1 < row.size(); ++i) {
        // Between two rows an edge is straight: what is inside at both ends is inside all the way.
        const Pieces inside = common(inside_outline(outline, row[i] + hair),
                                     inside_outline(outline, row[i + 1] - hair));
        double from = 0;
        for (const auto& [low, high] : inside) {
            block(from, row[i], low, row[i + 1]);
            from = high;
        }
        block(from, row[i], width, row[i + 1]);
    }
    block(0, row.back(), width, length);
    return out;
}

}  // namespace boxroom
