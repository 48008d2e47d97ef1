#pragma once
#include <Eigen/Core>
#include <complex>
#include <vector>

#include "solvers/complex_planes.hpp"

namespace boxroom {

/// Systems that are sums of the same real symmetric parts (n x n), each with scales of its own: a
/// reduced operator at several frequencies or in several rooms.
struct SummedSystems {
    std::vector<const Eigen::MatrixXd*> part;
    std::vector<std::vector<std::complex<double>>> scale;  ///< [system][part]

    /// The lower half of each, the rest not set. The parts, which have megabytes, are read once.
    std::vector<ComplexPlanes<double>> lower_halves() const;
    /// Each times the column of x (n x any) that has its number; the only one, where there is but
    /// one, times all of them.
    Eigen::MatrixXcd times(const Eigen::MatrixXcd& x) const;
    /// What each makes of its load (n x any): in double precision, since single leaves 1e-5 of it
    /// to chance, and what functions made of it lack would, in a null, be another on another
    /// processor (0.0002 dB).
    std::vector<Eigen::MatrixXcd> solve(const std::vector<const Eigen::MatrixXd*>& load) const;
};

}  // namespace boxroom
