#include "solvers/element_matrices.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "base/parallel.hpp"
#include "solvers/cell_map.hpp"
#include "solvers/lobatto.hpp"

namespace boxroom {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

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
MatrixXd own_rows(const MatrixXd& x, const std::vector<int>& unknown) {
    MatrixXd own(unknown.size(), x.cols());
    for (std::size_t i = 0; i < unknown.size(); ++i) own.row(i) = x.row(unknown[i]);
    return own;
}

}  // namespace

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

/// Rows of an element's own unknowns, one a vector, times its mass and its stiffness.
ElementMatrices::OverElement ElementMatrices::over_element(const ElementMesh::Element& e,
                                                           const MatrixXd& own) const {
    const OverFloor& over = floor_[e.cell];
    const MatrixXd &up = up_mass_[e.layer], &slope = up_stiffness_[e.layer];
    const Eigen::Index floor = over.mass.rows();
    OverElement made{MatrixXd::Zero(own.rows(), own.cols()), {}};
    made.stiffness = made.mass;
    for (Eigen::Index a = 0; a < up.rows(); ++a) {
        const auto here = own.middleCols(a * floor, floor);
        const MatrixXd m = here * over.mass, k = here * over.stiffness;
        for (Eigen::Index b = 0; b < up.cols(); ++b) {
            made.mass.middleCols(b * floor, floor) += up(a, b) * m;
            made.stiffness.middleCols(b * floor, floor) += up(a, b) * k + slope(a, b) * m;
        }
    }
    return made;
}

Eigen::MatrixXcd ElementMatrices::times(std::span<const OperatorScales> scales,
                                        const Eigen::MatrixXcd& x) const {
    Eigen::MatrixXcd result(x.rows(), x.cols());
    constexpr Eigen::Index together = 24;
    for_each_in_parallel((x.cols() + together - 1) / together, 1, [&](std::size_t block) {
        const Eigen::Index first = static_cast<Eigen::Index>(block) * together,
                           count = std::min(together, x.cols() - first);
        // Real parts, then imaginary ones; one column an unknown.
        MatrixXd across(2 * count, x.rows()), sum = MatrixXd::Zero(2 * count, x.rows());
        across << x.middleCols(first, count).real().transpose(),
            x.middleCols(first, count).imag().transpose();
        Eigen::VectorXcd scale(count);
        const auto add = [&](const MatrixXd& product, const std::vector<int>& unknown,
                             const auto& scale_of) {
            for (Eigen::Index n = 0; n < count; ++n) scale(n) = scale_of(scales[first + n]);
            for (std::size_t i = 0; i < unknown.size(); ++i) {
                const auto re = product.col(i).head(count).array(),
                           im = product.col(i).tail(count).array();
                auto to = sum.col(unknown[i]);
                to.head(count).array() += scale.real().array() * re - scale.imag().array() * im;
                to.tail(count).array() += scale.real().array() * im + scale.imag().array() * re;
            }
        };
        for (std::size_t n = 0; n < mesh_.element.size(); ++n) {
            const auto& e = mesh_.element[n];
            const OverElement own = over_element(e, gathered(across, e.unknown));
            add(own.stiffness, e.unknown, [&e](const OperatorScales& s) {
                return e.region == ElementMesh::room_region ? s.stiffness_room
                                                            : s.stiffness_elsewhere;
            });
            add(own.mass, e.unknown, [](const OperatorScales& s) { return s.mass; });
            for (const int f : faces_of_[n]) {
                const auto& face = mesh_.face[f];
                const std::vector<int> side = mesh_.on_side(e, face.side);
                add(gathered(across, side) * side_matrix(face), side,
                    [&face](const OperatorScales& s) { return s.wall[face.surface]; });
            }
        }
        result.middleCols(first, count).real() = sum.topRows(count).transpose();
        result.middleCols(first, count).imag() = sum.bottomRows(count).transpose();
    });
    return result;
}

MatrixXd ElementMatrices::times_mass(const MatrixXd& x) const {
    MatrixXd result = MatrixXd::Zero(x.rows(), x.cols());
    for (const auto& e : mesh_.element) {
        const MatrixXd own =
            times_product(up_mass_[e.layer], floor_[e.cell].mass, own_rows(x, e.unknown));
        for (std::size_t i = 0; i < e.unknown.size(); ++i) result.row(e.unknown[i]) += own.row(i);
    }
    return result;
}

std::array<MatrixXd, 2> ElementMatrices::stiffness_over_floor(
    const FunctionBlocks& functions) const {
    const Eigen::Index count = functions.size();
    constexpr std::size_t heaps = 4;
    std::array<std::array<MatrixXd, 2>, heaps> heap;
    for_each_in_parallel(heaps, 1, [&](std::size_t h) {
        for (MatrixXd& part : heap[h]) part = MatrixXd::Zero(count, count);
        for (std::size_t n = h; n < mesh_.element.size(); n += heaps) {
            const auto& e = mesh_.element[n];
            if (e.region != ElementMesh::room_region) continue;
            const OverFloor& over = floor_[e.cell];
            const MatrixXd own = functions.at(e.unknown).transpose();
            const auto add = [&](MatrixXd& to, const MatrixXd& floor) {
                to.triangularView<Eigen::Lower>() +=
                    own.transpose() * times_product(up_mass_[e.layer], floor, own);
            };
            add(heap[h][0], over.stiffness_x);
            add(heap[h][1], over.stiffness - over.stiffness_x);
        }
    });
    for (std::size_t axis = 0; axis < heap[0].size(); ++axis) {
        MatrixXd& part = heap[0][axis];
        for (std::size_t h = 1; h < heaps; ++h) part += heap[h][axis];
        part.triangularView<Eigen::StrictlyUpper>() = part.transpose();
    }
    return heap[0];
}

}  // namespace boxroom
