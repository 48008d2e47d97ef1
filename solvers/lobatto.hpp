#pragma once
#include <Eigen/Core>

/// Polynomials on the interval [-1, 1] through its Gauss-Lobatto points.
namespace boxroom::lobatto {

/// The degree + 1 points: -1, 1 and the roots of P'_degree between them (Canuto, Hussaini,
/// Quarteroni & Zang, Spectral Methods: Fundamentals, 2006, sec. 2.3). degree >= 1.
const Eigen::VectorXd& nodes(int degree);

struct Quadrature {
    Eigen::VectorXd at, weight;
};
/// Gauss's points: exact for polynomials up to the degree 2 count - 1.
Quadrature gauss(int count);

/// Rows: the points `at`; columns: the Lagrange polynomials of the nodes, or their derivatives.
Eigen::MatrixXd values(int degree, const Eigen::VectorXd& at);
Eigen::MatrixXd slopes(int degree, const Eigen::VectorXd& at);

/// int l_m l_n and int l'_m l'_n over [-1, 1], exactly.
const Eigen::MatrixXd& mass(int degree);
const Eigen::MatrixXd& stiffness(int degree);

inline constexpr int highest_degree = 12;

}  // namespace boxroom::lobatto
