#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/error.hpp"
#include "solvers/element_footprint.hpp"

namespace boxroom::element_parts {
namespace {

constexpr double one_point = 1e-4;  ///< points nearer than this are one [m]
constexpr std::size_t most_points = 4000;

using Edge = std::pair<int, int>;
Edge edge(int a, int b) {
    return {std::min(a, b), std::max(a, b)};
}

double turn(const Point& a, const Point& b, const Point& c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/// Distance of p from a segment, and where along it (0 .. 1) the nearest point is.
std::pair<double, double> from_segment(const Point& p, const Point& a, const Point& b) {
    const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
    const double t =
        square > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    return {std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy), t};
}

/// Delaunay's triangles of points that come one by one (Bowyer, Computer Journal 24, 1981; Watson,
/// ibid.). The first three points are a triangle round all others.
class Delaunay {
  public:
    explicit Delaunay(const Point& low, const Point& high) {
        const double reach = 50 * (std::hypot(high.x - low.x, high.y - low.y) + 1);
        const Point middle{(low.x + high.x) / 2, (low.y + high.y) / 2, 0};
        for (const double angle : {0.1, 2.2, 4.3})
            point_.push_back(
                {middle.x + reach * std::cos(angle), middle.y + reach * std::sin(angle), 0});
        triangle_.push_back({0, 1, 2});
    }
    /// The index of the point, or of the one that is there already.
    int add(const Point& p) {
        for (std::size_t n = 3; n < point_.size(); ++n)
            if (std::hypot(point_[n].x - p.x, point_[n].y - p.y) < one_point)
                return static_cast<int>(n);
        if (point_.size() > most_points)
            throw Error("room solver", "the floor plan takes too many elements",
                        "leave out corners, or details that come near to each other");
        const int index = static_cast<int>(point_.size());
        point_.push_back(p);
        std::map<Edge, int> bare;  // sides of what goes, counted
        std::vector<std::array<int, 3>> kept, gone;
        for (const auto& t : triangle_) (holds(t, p) ? gone : kept).push_back(t);
        for (const auto& t : gone)
            for (int k = 0; k < 3; ++k) ++bare[edge(t[k], t[(k + 1) % 3])];
        for (const auto& t : gone)
            for (int k = 0; k < 3; ++k)
                if (bare[edge(t[k], t[(k + 1) % 3])] == 1)
                    kept.push_back({t[k], t[(k + 1) % 3], index});
        triangle_ = std::move(kept);
        return index;
    }
    std::set<Edge> edges() const {
        std::set<Edge> all;
        for (const auto& t : triangle_)
            for (int k = 0; k < 3; ++k) all.insert(edge(t[k], t[(k + 1) % 3]));
        return all;
    }
    const std::vector<Point>& points() const { return point_; }
    const std::vector<std::array<int, 3>>& triangles() const { return triangle_; }

  private:
    /// Whether p lies within the circle through a triangle's corners.
    bool holds(const std::array<int, 3>& t, const Point& p) const {
        double d[3][3];
        double size = 0;
        for (int k = 0; k < 3; ++k) {
            d[k][0] = point_[t[k]].x - p.x, d[k][1] = point_[t[k]].y - p.y;
            d[k][2] = d[k][0] * d[k][0] + d[k][1] * d[k][1];
            size = std::max(size, d[k][2]);
        }
        const double inside = d[0][2] * (d[1][0] * d[2][1] - d[1][1] * d[2][0]) -
                              d[1][2] * (d[0][0] * d[2][1] - d[0][1] * d[2][0]) +
                              d[2][2] * (d[0][0] * d[1][1] - d[0][1] * d[1][0]);
        return inside > 1e-12 * size * size;
    }
    std::vector<Point> point_;
    std::vector<std::array<int, 3>> triangle_;  ///< going round to the left
};

/// Every corner, and where segments cross or touch.
std::vector<Point> corners_of(const std::vector<Segment>& segments) {
    std::vector<Point> all;
    for (const Segment& s : segments) all.push_back(s.from), all.push_back(s.to);
    for (std::size_t i = 0; i < segments.size(); ++i)
        for (std::size_t k = i + 1; k < segments.size(); ++k) {
            const auto &a = segments[i].from, &b = segments[i].to;
            const auto &c = segments[k].from, &d = segments[k].to;
            const double along = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x);
            if (std::abs(along) < 1e-9) continue;
            const double s = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / along;
            const double t = ((c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x)) / along;
            if (s < 0 || s > 1 || t < 0 || t > 1) continue;
            all.push_back({a.x + s * (b.x - a.x), a.y + s * (b.y - a.y), 0});
        }
    return all;
}

/// The segments as chains of sides no longer than `longest` from corner to corner.
std::set<Edge> sides_of(const std::vector<Segment>& segments, double longest, Delaunay& net) {
    std::vector<Point> corners;
    for (const Point& p : corners_of(segments)) {
        net.add({p.x, p.y, 0});
    }
    corners.assign(net.points().begin() + 3, net.points().end());
    std::set<Edge> sides;
    for (const Segment& s : segments) {
        std::vector<std::pair<double, Point>> on{{0.0, s.from}, {1.0, s.to}};
        for (const Point& p : corners)
            if (const auto [off, t] = from_segment(p, s.from, s.to); off < one_point)
                on.push_back({t, p});
        std::sort(on.begin(), on.end(),
                  [](const auto& a, const auto& b) { return a.first < b.first; });
        for (std::size_t n = 0; n + 1 < on.size(); ++n) {
            const Point &a = on[n].second, &b = on[n + 1].second;
            const double length = std::hypot(b.x - a.x, b.y - a.y);
            if (length < one_point) continue;
            const int parts = static_cast<int>(std::ceil(length / longest));
            int last = net.add({a.x, a.y, 0});
            for (int k = 1; k <= parts; ++k) {
                const double t = static_cast<double>(k) / parts;
                const int next = net.add({a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), 0});
                if (next != last) sides.insert(edge(last, next));
                last = next;
            }
        }
    }
    return sides;
}

/// Points of a honeycomb, a little off it so that no four lie on a circle.
void fill(Delaunay& net, const std::set<Edge>& sides, double longest, const Point& low,
          const Point& high) {
    int row = 0;
    for (double y = low.y + 0.37 * longest; y < high.y; y += 0.866 * longest, ++row)
        for (double x = low.x + (row % 2 ? 0.31 : 0.81) * longest; x < high.x; x += longest) {
            const Point p{x + 0.011 * longest * std::sin(7 * x + 3 * y),
                          y + 0.011 * longest * std::sin(5 * y - 2 * x), 0};
            bool free = true;
            for (const auto& [a, b] : sides)
                free = free &&
                       from_segment(p, net.points()[a], net.points()[b]).first > 0.55 * longest;
            if (free) net.add(p);
        }
}

/// Halves the sides that are no side of a triangle until all are.
void hold_sides(Delaunay& net, std::set<Edge> sides) {
    for (bool missing = true; missing;) {
        missing = false;
        const std::set<Edge> present = net.edges();
        std::set<Edge> next;
        for (const auto& [a, b] : sides) {
            if (present.count({a, b})) {
                next.insert({a, b});
                continue;
            }
            const Point p = net.points()[a], q = net.points()[b];
            const int middle = net.add({(p.x + q.x) / 2, (p.y + q.y) / 2, 0});
            if (middle == a || middle == b) continue;
            missing = true;
            next.insert(edge(a, middle));
            next.insert(edge(middle, b));
        }
        sides = std::move(next);
    }
}

}  // namespace

Footprint triangles_on(const std::vector<Segment>& segments, double longest, int degree) {
    Point low{1e300, 1e300, 0}, high{-1e300, -1e300, 0};
    for (const Segment& s : segments)
        for (const Point& p : {s.from, s.to}) {
            low.x = std::min(low.x, p.x), low.y = std::min(low.y, p.y);
            high.x = std::max(high.x, p.x), high.y = std::max(high.y, p.y);
        }
    Delaunay net(low, high);
    const std::set<Edge> sides = sides_of(segments, longest, net);
    fill(net, sides, longest, low, high);
    hold_sides(net, sides);

    Footprint footprint;
    footprint.vertex = net.points();
    for (auto t : net.triangles()) {
        if (std::min({t[0], t[1], t[2]}) < 3) continue;
        const auto& v = footprint.vertex;
        if (turn(v[t[0]], v[t[1]], v[t[2]]) < 1e-9) continue;  // points of one line
        footprint.cell.push_back({{t[0], t[1], t[2], t[2]}, {degree, degree}});
    }
    return footprint;
}

}  // namespace boxroom::element_parts
