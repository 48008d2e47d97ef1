#pragma once
#include <Eigen/Core>
#include <array>
#include <span>
#include <vector>

#include "solvers/element_mesh.hpp"
#include "solvers/function_blocks.hpp"
#include "solvers/operator_scales.hpp"

namespace boxroom {

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

    /// A x, one column a vector, each with the operator of its own scales.
    Eigen::MatrixXcd times(std::span<const OperatorScales> scales, const Eigen::MatrixXcd& x) const;
    /// M x, one column a vector.
    Eigen::MatrixXd times_mass(const Eigen::MatrixXd& x) const;
    /// y^T P x for every part P of A and functions y and x: K of the room, K elsewhere, M, then B
    /// of each surface; empty where there is nothing of it.
    std::vector<Eigen::MatrixXd> between(const FunctionBlocks& y, const FunctionBlocks& x) const;
    /// How many parts A has.
    std::size_t parts() const { return 3 + static_cast<std::size_t>(mesh_.surfaces); }

    /// K of the room with gradients along x alone, and along y alone.
    std::array<Eigen::MatrixXd, 2> stiffness_over_floor(const FunctionBlocks& functions) const;

  private:
    struct OverFloor {
        Eigen::MatrixXd mass, stiffness, stiffness_x;  ///< the last: of gradients along x
    };
    struct OverElement {
        Eigen::MatrixXd mass, stiffness;
    };
    /// Functions times each part that the air touches, (functions, unknowns of the part).
    struct Weighed;
    OverElement over_element(const ElementMesh::Element& e, const Eigen::MatrixXd& own) const;
    Weighed weighed(const FunctionBlocks& functions) const;
    Eigen::MatrixXd side_matrix(const ElementMesh::Face& face) const;
    std::vector<int> local_side(const ElementMesh::Face& face) const;

    ElementMesh mesh_;
    std::vector<OverFloor> floor_;                         ///< of each footprint cell
    std::vector<Eigen::MatrixXd> up_mass_, up_stiffness_;  ///< of each layer
    std::vector<std::vector<int>> faces_of_;               ///< of each element
};

}  // namespace boxroom
