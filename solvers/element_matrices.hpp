#pragma once
#include <Eigen/Core>
#include <array>
#include <complex>
#include <span>
#include <vector>

#include "solvers/element_mesh.hpp"

namespace boxroom {

/// What the operator A = sum_n scale_n K_n - k^2 M + j k sum_s beta_s B_s is made of at one
/// frequency: K_room/s and K_elsewhere, s being the contents' density factor.
struct OperatorScales {
    std::complex<double> stiffness_room, stiffness_elsewhere, mass;
    std::vector<std::complex<double>> wall;  ///< j k beta of each surface
};
OperatorScales operator_scales(const Room& room, const Air& air, double frequency);
/// The same for a decaying oscillation; w [rad/s].
OperatorScales operator_scales_at(const Room& room, const Air& air, std::complex<double> omega);

/// A place in the air: the unknowns that make its pressure, with their shares.
struct PointValue {
    std::vector<int> unknown;
    std::vector<double> share;
};

/// Integrals over the elements of a mesh: K of grad p . grad q, M of p q over the air, B_s of p q
/// over a surface, by Gauss's points exact but for slanted quadrilaterals (Ihlenburg, Finite
/// Element Analysis of Acoustic Scattering, 1998, ch. 2 for the weak form). The elements being
/// upright, each matrix is a sum of products of one over the floor and one over the height.
class ElementMatrices {
  public:
    explicit ElementMatrices(ElementMesh mesh);
    const ElementMesh& mesh() const { return mesh_; }

    /// A of one element, with the walls it has; symmetric, complex.
    Eigen::MatrixXcd element_operator(int element, const OperatorScales& scales) const;

    /// A x, one column a vector.
    Eigen::MatrixXcd times(const OperatorScales& scales, const Eigen::MatrixXcd& x) const;
    /// M x, one column a vector.
    Eigen::MatrixXd times_mass(const Eigen::MatrixXd& x) const;
    /// y^T P x for every part P of A, y the columns of x from `first` on: K of the room, K
    /// elsewhere, M, then B of each surface; empty where there is nothing of it.
    std::vector<Eigen::MatrixXd> between(const Eigen::MatrixXd& x, Eigen::Index first = 0) const;

    /// y^T K y of the room alone, by the direction of the gradients: their sum is between()'s K.
    std::array<Eigen::MatrixXd, 3> stiffness_along(const Eigen::MatrixXd& y) const;

    /// Throws Error for a point that is not in the air of the room itself.
    PointValue at(const Point& p) const;

  private:
    struct OverFloor {
        Eigen::MatrixXd mass, stiffness, stiffness_x;  ///< the last: of gradients along x
    };
    Eigen::MatrixXd side_matrix(const ElementMesh::Face& face) const;
    std::vector<int> local_side(const ElementMesh::Face& face) const;
    bool find(const Point& p, PointValue& value) const;
    bool find_in(int cell, double x, double y, double& xi, double& eta) const;

    ElementMesh mesh_;
    std::vector<OverFloor> floor_;                         ///< of each footprint cell
    std::vector<Eigen::MatrixXd> up_mass_, up_stiffness_;  ///< of each layer
    std::vector<std::vector<int>> faces_of_;               ///< of each element
};

}  // namespace boxroom
