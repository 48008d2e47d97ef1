#include "solvers/element_matrices.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <cstdio>
#include <map>
#include <numbers>
#include <string>

#include "base/error.hpp"
#include "base/parallel.hpp"
#include "solvers/imaginary_unit.hpp"
#include "solvers/lobatto.hpp"

namespace boxroom {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Position in a cell, bilinear in the two coordinates, with its derivatives.
struct Mapped {
    double x = 0, y = 0;
    Eigen::Matrix2d slope;  ///< rows x, y; columns xi, eta
};

Mapped map_to(const Footprint& footprint, const FootprintCell& cell, double xi, double eta) {
    Mapped at;
    at.slope.setZero();
    const double sign_x[4] = {-1, 1, 1, -1}, sign_y[4] = {-1, -1, 1, 1};
    for (int n = 0; n < 4; ++n) {
        const Point& p = footprint.vertex[cell.corner[n]];
        const double a = (1 + sign_x[n] * xi) / 2, b = (1 + sign_y[n] * eta) / 2;
        at.x += a * b * p.x, at.y += a * b * p.y;
        at.slope(0, 0) += sign_x[n] / 2 * b * p.x, at.slope(0, 1) += a * sign_y[n] / 2 * p.x;
        at.slope(1, 0) += sign_x[n] / 2 * b * p.y, at.slope(1, 1) += a * sign_y[n] / 2 * p.y;
    }
    return at;
}

/// Entries [z][floor] of the product of a matrix over the height and one over the floor.
template <typename Result, typename Scale>
void add_product(Result& to, const MatrixXd& up, const MatrixXd& floor, Scale scale) {
    const Eigen::Index n = floor.rows();
    for (Eigen::Index a = 0; a < up.rows(); ++a)
        for (Eigen::Index b = 0; b < up.cols(); ++b)
            to.block(a * n, b * n, n, n) += (scale * up(a, b)) * floor;
}

/// The same product times x, whose rows are [z][floor], without forming it.
MatrixXd times_product(const MatrixXd& up, const MatrixXd& floor, const MatrixXd& x) {
    const Eigen::Index n = floor.rows();
    MatrixXd across(x.rows(), x.cols()), result = MatrixXd::Zero(x.rows(), x.cols());
    for (Eigen::Index a = 0; a < up.rows(); ++a)
        across.middleRows(a * n, n).noalias() = floor * x.middleRows(a * n, n);
    for (Eigen::Index a = 0; a < up.rows(); ++a)
        for (Eigen::Index b = 0; b < up.cols(); ++b)
            result.middleRows(a * n, n) += up(a, b) * across.middleRows(b * n, n);
    return result;
}

/// The rows of x that are an element's own.
template <typename Matrix>
Matrix own_rows(const Matrix& x, const std::vector<int>& unknown) {
    Matrix own(unknown.size(), x.cols());
    for (std::size_t i = 0; i < unknown.size(); ++i) own.row(i) = x.row(unknown[i]);
    return own;
}

/// Adds what an element makes of its own rows to those of the result.
template <typename Matrix>
void add_rows(const Matrix& own, const std::vector<int>& unknown, Matrix& to) {
    for (std::size_t i = 0; i < unknown.size(); ++i) to.row(unknown[i]) += own.row(i);
}

}  // namespace

OperatorScales operator_scales(const Room& room, const Air& air, double frequency) {
    return operator_scales_at(room, air, 2 * std::numbers::pi * frequency);
}

OperatorScales operator_scales_at(const Room& room, const Air& air, std::complex<double> omega) {
    const std::complex<double> k = omega / air.speed_of_sound;
    OperatorScales scales;
    scales.stiffness_room = 1.0 / room.contents.density_factor(omega, air, room.volume());
    scales.stiffness_elsewhere = 1;
    scales.mass = -k * k;
    for (const Wall& wall : surface_walls(room, air))
        scales.wall.push_back(j * k * wall.admittance(omega, air));
    return scales;
}

ElementMatrices::ElementMatrices(ElementMesh mesh) : mesh_(std::move(mesh)) {
    std::vector<bool> used(mesh_.footprint.cell.size(), false);
    for (const auto& e : mesh_.element) used[e.cell] = true;
    floor_.resize(used.size());
    for (std::size_t c = 0; c < used.size(); ++c) {
        if (!used[c]) continue;  // no air above it
        const FootprintCell& cell = mesh_.footprint.cell[c];
        const auto [px, py] = cell.degree;
        const auto qx = lobatto::gauss(px + 2), qy = lobatto::gauss(py + 2);
        const MatrixXd vx = lobatto::values(px, qx.at), vy = lobatto::values(py, qy.at);
        const MatrixXd sx = lobatto::slopes(px, qx.at), sy = lobatto::slopes(py, qy.at);
        const int count = (px + 1) * (py + 1);
        const MatrixXd none = MatrixXd::Zero(count, count);
        OverFloor over{none, none, none};
        VectorXd value(count);
        MatrixXd slope(count, 2);
        for (int b = 0; b < qy.at.size(); ++b)
            for (int a = 0; a < qx.at.size(); ++a) {
                const Mapped at = map_to(mesh_.footprint, cell, qx.at(a), qy.at(b));
                const double area = std::abs(at.slope.determinant());
                const double weight = qx.weight(a) * qy.weight(b) * area;
                for (int n = 0; n <= py; ++n)
                    for (int m = 0; m <= px; ++m) {
                        const int i = n * (px + 1) + m;
                        value(i) = vx(a, m) * vy(b, n);
                        slope(i, 0) = sx(a, m) * vy(b, n), slope(i, 1) = vx(a, m) * sy(b, n);
                    }
                const MatrixXd gradient = slope * at.slope.inverse();
                over.mass += weight * value * value.transpose();
                over.stiffness += weight * gradient * gradient.transpose();
                over.stiffness_x += weight * gradient.col(0) * gradient.col(0).transpose();
            }
        floor_[c] = std::move(over);
    }
    for (std::size_t n = 0; n < mesh_.level_degree.size(); ++n) {
        const double half = (mesh_.level[n + 1] - mesh_.level[n]) / 2;
        up_mass_.push_back(half * lobatto::mass(mesh_.level_degree[n]));
        up_stiffness_.push_back(lobatto::stiffness(mesh_.level_degree[n]) / half);
    }
    faces_of_.resize(mesh_.element.size());
    for (std::size_t n = 0; n < mesh_.face.size(); ++n)
        faces_of_[mesh_.face[n].element].push_back(static_cast<int>(n));
}

std::vector<int> ElementMatrices::local_side(const ElementMesh::Face& face) const {
    ElementMesh::Element numbered = mesh_.element[face.element];
    for (std::size_t i = 0; i < numbered.unknown.size(); ++i)
        numbered.unknown[i] = static_cast<int>(i);
    return mesh_.on_side(numbered, face.side);
}

/// int p q over one side, in the order of ElementMesh::on_side.
MatrixXd ElementMatrices::side_matrix(const ElementMesh::Face& face) const {
    const auto& e = mesh_.element[face.element];
    if (face.side >= 4) return floor_[e.cell].mass;
    const FootprintCell& cell = mesh_.footprint.cell[e.cell];
    const Point& a = mesh_.footprint.vertex[cell.corner[face.side]];
    const Point& b = mesh_.footprint.vertex[cell.corner[(face.side + 1) % 4]];
    const MatrixXd along =
        std::hypot(b.x - a.x, b.y - a.y) / 2 * lobatto::mass(cell.degree[face.side % 2]);
    const MatrixXd& up = up_mass_[e.layer];
    MatrixXd result = MatrixXd::Zero(up.rows() * along.rows(), up.rows() * along.rows());
    add_product(result, up, along, 1.0);
    return result;
}

Eigen::MatrixXcd ElementMatrices::element_operator(int element,
                                                   const OperatorScales& scales) const {
    const auto& e = mesh_.element[element];
    const OverFloor& over = floor_[e.cell];
    const MatrixXd &up = up_mass_[e.layer], &up_slope = up_stiffness_[e.layer];
    const Eigen::Index n = over.mass.rows(), count = n * up.rows();
    const std::complex<double> stiffness =
        e.region == ElementMesh::room_region ? scales.stiffness_room : scales.stiffness_elsewhere;
    Eigen::MatrixXcd a(count, count);
    for (Eigen::Index z = 0; z < up.rows(); ++z)
        for (Eigen::Index y = 0; y < up.cols(); ++y)
            a.block(z * n, y * n, n, n) =
                (stiffness * up(z, y)) * over.stiffness +
                (stiffness * up_slope(z, y) + scales.mass * up(z, y)) * over.mass;
    for (const int f : faces_of_[element]) {
        const auto& face = mesh_.face[f];
        const std::vector<int> local = local_side(face);
        const MatrixXd b = side_matrix(face);
        for (std::size_t q = 0; q < local.size(); ++q)
            for (std::size_t p = 0; p < local.size(); ++p)
                a(local[p], local[q]) += scales.wall[face.surface] * b(p, q);
    }
    return a;
}

Eigen::MatrixXcd ElementMatrices::times(const OperatorScales& scales,
                                        const Eigen::MatrixXcd& x) const {
    Eigen::MatrixXcd result = Eigen::MatrixXcd::Zero(x.rows(), x.cols());
    for (std::size_t n = 0; n < mesh_.element.size(); ++n) {
        const auto& unknown = mesh_.element[n].unknown;
        const Eigen::MatrixXcd a = element_operator(static_cast<int>(n), scales);
        add_rows<Eigen::MatrixXcd>(a * own_rows(x, unknown), unknown, result);
    }
    return result;
}

MatrixXd ElementMatrices::times_mass(const MatrixXd& x) const {
    MatrixXd result = MatrixXd::Zero(x.rows(), x.cols());
    for (const auto& e : mesh_.element) {
        add_rows(times_product(up_mass_[e.layer], floor_[e.cell].mass, own_rows(x, e.unknown)),
                 e.unknown, result);
    }
    return result;
}

std::vector<MatrixXd> ElementMatrices::between(const MatrixXd& x, Eigen::Index first) const {
    const Eigen::Index count = x.cols() - first;
    // One column an unknown: what an element needs lies together.
    const MatrixXd across = x.transpose();
    const auto gather = [&across](const std::vector<int>& unknown) {
        MatrixXd own(across.rows(), unknown.size());
        for (std::size_t i = 0; i < unknown.size(); ++i) own.col(i) = across.col(unknown[i]);
        return own;
    };
    const std::size_t parts = 3 + static_cast<std::size_t>(mesh_.surfaces);
    // Summed in a few heaps, the same whatever the number of threads.
    constexpr std::size_t heaps = 4;
    std::vector<std::vector<MatrixXd>> heap(heaps, std::vector<MatrixXd>(parts));
    for_each_in_parallel(heaps, 1, [&](std::size_t h) {
        const auto add = [&](std::size_t part, const MatrixXd& product, const MatrixXd& own) {
            MatrixXd& to = heap[h][part];
            if (to.size() == 0) to = MatrixXd::Zero(count, x.cols());
            to.noalias() += product * own.transpose();
        };
        for (std::size_t n = h; n < mesh_.element.size(); n += heaps) {
            const auto& e = mesh_.element[n];
            const OverFloor& over = floor_[e.cell];
            const MatrixXd &up = up_mass_[e.layer], &slope = up_stiffness_[e.layer];
            const MatrixXd own = gather(e.unknown);
            MatrixXd mass = MatrixXd::Zero(count, own.cols()), stiffness = mass;
            const Eigen::Index floor = over.mass.rows();
            for (Eigen::Index a = 0; a < up.rows(); ++a) {
                const auto here = own.block(first, a * floor, count, floor);
                const MatrixXd m = here * over.mass, k = here * over.stiffness;
                for (Eigen::Index b = 0; b < up.cols(); ++b) {
                    mass.middleCols(b * floor, floor) += up(a, b) * m;
                    stiffness.middleCols(b * floor, floor) += up(a, b) * k + slope(a, b) * m;
                }
            }
            add(e.region == ElementMesh::room_region ? 0 : 1, stiffness, own);
            add(2, mass, own);
            for (const int f : faces_of_[n]) {
                const auto& face = mesh_.face[f];
                const MatrixXd side = gather(mesh_.on_side(e, face.side));
                add(3 + static_cast<std::size_t>(face.surface),
                    side.bottomRows(count) * side_matrix(face), side);
            }
        }
    });
    std::vector<MatrixXd> sum(parts);
    for (auto& of_heap : heap)
        for (std::size_t n = 0; n < parts; ++n)
            if (sum[n].size() == 0)
                sum[n] = std::move(of_heap[n]);
            else if (of_heap[n].size() > 0)
                sum[n] += of_heap[n];
    return sum;
}

std::array<MatrixXd, 3> ElementMatrices::stiffness_along(const MatrixXd& y) const {
    const Eigen::Index count = y.cols();
    constexpr std::size_t heaps = 4;
    std::array<std::array<MatrixXd, 3>, heaps> heap;
    for_each_in_parallel(heaps, 1, [&](std::size_t h) {
        for (MatrixXd& part : heap[h]) part = MatrixXd::Zero(count, count);
        for (std::size_t n = h; n < mesh_.element.size(); n += heaps) {
            const auto& e = mesh_.element[n];
            if (e.region != ElementMesh::room_region) continue;
            const OverFloor& over = floor_[e.cell];
            const MatrixXd &up = up_mass_[e.layer], &slope = up_stiffness_[e.layer];
            const MatrixXd own = own_rows(y, e.unknown);
            const auto add = [&](MatrixXd& to, const MatrixXd& over_height, const MatrixXd& floor) {
                to.noalias() += own.transpose() * times_product(over_height, floor, own);
            };
            add(heap[h][0], up, over.stiffness_x);
            add(heap[h][1], up, over.stiffness - over.stiffness_x);
            add(heap[h][2], slope, over.mass);
        }
    });
    for (std::size_t h = 1; h < heaps; ++h)
        for (int axis = 0; axis < 3; ++axis) heap[0][axis] += heap[h][axis];
    return heap[0];
}

/// The cell's own coordinates of a place, if it lies within it.
bool ElementMatrices::find_in(int cell, double x, double y, double& xi, double& eta) const {
    const FootprintCell& c = mesh_.footprint.cell[cell];
    xi = eta = 0;
    if (c.corner[2] == c.corner[3]) eta = -0.5;
    for (int step = 0; step < 40; ++step) {
        const Mapped at = map_to(mesh_.footprint, c, xi, eta);
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
    const Mapped at = map_to(mesh_.footprint, c, xi, eta);
    return std::hypot(x - at.x, y - at.y) < 1e-4;
}

PointValue ElementMatrices::at(const Point& p) const {
    PointValue value;
    // What lies within a wall by no more than rounding lies on it.
    for (const double by : {0.0, 2e-3, -2e-3})
        if (find(p, value) || find({p.x + by, p.y, p.z}, value) ||
            find({p.x, p.y + by, p.z}, value) || find({p.x, p.y, p.z + by}, value))
            return value;
    char place[80];
    std::snprintf(place, sizeof place, "%.2f, %.2f, %.2f m", p.x, p.y, p.z);
    throw Error("room solver",
                "a source or a receiver at " + std::string(place) + " lies outside the room",
                "move it into the air of the room");
}

bool ElementMatrices::find(const Point& p, PointValue& value) const {
    constexpr double touch = 1e-4;
    for (const auto& e : mesh_.element) {
        if (e.region != ElementMesh::room_region) continue;
        const double low = mesh_.level[e.layer], high = mesh_.level[e.layer + 1];
        if (p.z < low - touch || p.z > high + touch) continue;
        const auto& corner = mesh_.footprint.cell[e.cell].corner;
        double left = 1e300, right = -1e300, front = 1e300, back = -1e300;
        for (const int n : corner) {
            const Point& v = mesh_.footprint.vertex[n];
            left = std::min(left, v.x), right = std::max(right, v.x);
            front = std::min(front, v.y), back = std::max(back, v.y);
        }
        if (p.x < left - touch || p.x > right + touch || p.y < front - touch || p.y > back + touch)
            continue;
        double xi = 0, eta = 0;
        if (!find_in(e.cell, p.x, p.y, xi, eta)) continue;
        const double zeta = std::clamp(2 * (p.z - low) / (high - low) - 1, -1.0, 1.0);
        const auto& degree = mesh_.footprint.cell[e.cell].degree;
        const auto line = [](int n, double x) {
            return MatrixXd(lobatto::values(n, VectorXd::Constant(1, x)));
        };
        const MatrixXd x = line(degree[0], xi), y = line(degree[1], eta),
                       z = line(mesh_.level_degree[e.layer], zeta);
        value.unknown = e.unknown;
        for (int c = 0; c < z.cols(); ++c)
            for (int b = 0; b < y.cols(); ++b)
                for (int a = 0; a < x.cols(); ++a) value.share.push_back(x(a) * y(b) * z(c));
        return true;
    }
    return false;
}

}  // namespace boxroom
