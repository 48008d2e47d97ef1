#include "solvers/point_value.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>

#include "base/error.hpp"
#include "solvers/cell_map.hpp"
#include "solvers/lobatto.hpp"

namespace boxroom {
namespace {

/// The cell's own coordinates of a place, if it lies within it.
bool find_in(const Footprint& footprint, int cell, double x, double y, double& xi, double& eta) {
    const FootprintCell& c = footprint.cell[cell];
    xi = eta = 0;
    if (c.corner[2] == c.corner[3]) eta = -0.5;
    for (int step = 0; step < 40; ++step) {
        const Mapped at = map_to(footprint, c, xi, eta);
        const Eigen::Vector2d off(x - at.x, y - at.y);
        if (off.norm() < 1e-12) break;
        const double area = at.slope.determinant();
        if (std::abs(area) < 1e-14) break;
        const Eigen::Vector2d move = at.slope.inverse() * off;
        // A triangle's tip is where its map has no inverse.
        xi = std::clamp(xi + move(0), -3.0, 3.0), eta = std::clamp(eta + move(1), -3.0, 1 - 1e-9);
        if (c.corner[2] != c.corner[3]) eta = std::clamp(eta + 0.0, -3.0, 3.0);
    }
    // What lies beside the cell by less than lines that are one lies on its rim.
    xi = std::clamp(xi, -1.0, 1.0), eta = std::clamp(eta, -1.0, 1.0);
    const Mapped at = map_to(footprint, c, xi, eta);
    return std::hypot(x - at.x, y - at.y) < 1e-4;
}

bool find(const ElementMesh& mesh, const Point& p, PointValue& value) {
    constexpr double touch = 1e-4;
    for (const auto& e : mesh.element) {
        if (e.region != ElementMesh::room_region) continue;
        const double low = mesh.level[e.layer], high = mesh.level[e.layer + 1];
        if (p.z < low - touch || p.z > high + touch) continue;
        const auto& corner = mesh.footprint.cell[e.cell].corner;
        double left = 1e300, right = -1e300, front = 1e300, back = -1e300;
        for (const int n : corner) {
            const Point& v = mesh.footprint.vertex[n];
            left = std::min(left, v.x), right = std::max(right, v.x);
            front = std::min(front, v.y), back = std::max(back, v.y);
        }
        if (p.x < left - touch || p.x > right + touch || p.y < front - touch || p.y > back + touch)
            continue;
        double xi = 0, eta = 0;
        if (!find_in(mesh.footprint, e.cell, p.x, p.y, xi, eta)) continue;
        const double zeta = std::clamp(2 * (p.z - low) / (high - low) - 1, -1.0, 1.0);
        const auto& degree = mesh.footprint.cell[e.cell].degree;
        const auto line = [](int n, double x) {
            return Eigen::MatrixXd(lobatto::values(n, Eigen::VectorXd::Constant(1, x)));
        };
        const Eigen::MatrixXd x = line(degree[0], xi), y = line(degree[1], eta),
                              z = line(mesh.level_degree[e.layer], zeta);
        value.unknown = e.unknown;
        for (int c = 0; c < z.cols(); ++c)
            for (int b = 0; b < y.cols(); ++b)
                for (int a = 0; a < x.cols(); ++a) value.share.push_back(x(a) * y(b) * z(c));
        return true;
    }
    return false;
}

}  // namespace

PointValue point_value(const ElementMesh& mesh, const Point& p) {
    PointValue value;
    // What lies within a wall by no more than rounding lies on it.
    for (const double by : {0.0, 2e-3, -2e-3})
        if (find(mesh, p, value) || find(mesh, {p.x + by, p.y, p.z}, value) ||
            find(mesh, {p.x, p.y + by, p.z}, value) || find(mesh, {p.x, p.y, p.z + by}, value))
            return value;
    char place[80];
    std::snprintf(place, sizeof place, "%.2f, %.2f, %.2f m", p.x, p.y, p.z);
    throw Error("room solver",
                "a source or a receiver at " + std::string(place) + " lies outside the room",
                "move it into the air of the room");
}

}  // namespace boxroom
