#pragma once
#include <Eigen/Core>
#include <complex>
#include <optional>
#include <span>
#include <vector>

#include "solvers/reduced_model.hpp"

namespace boxroom {

/// Fields of some sources in rooms that differ from one along a line: A(t) = A + t D, with t any
/// complex number at each frequency and D = jk sum_s d_s B_s; one surface of whatever material, or
/// all of them softer alike. What A^-1 and D make of the loads, again and again, spans them: its
/// transfers between the sources agree with the exact ones up to t^(2 depth), exclusive (block
/// Krylov spaces match moments: Antoulas, Approximation of Large-Scale Dynamical Systems, 2005, ch.
/// 11; for symmetric operators twice as many as they have blocks: Feldmann & Freund, IEEE Trans.
/// CAD 14, 1995; both from memory). A room then takes a hundredth of a solve.
class SurfaceLine {
  public:
    /// From `at` towards another room of the same shape. `load`: one column a source (N x S), as
    /// ReducedModel has it. `depth`, blocks of the space; 0: as many as are quickly solved.
    SurfaceLine(const ReducedModel& model, const Room& at, const Room& towards, const Air& air,
                std::vector<double> frequency, const Eigen::MatrixXd& load, int depth = 0);

    /// Fields of the sources (N x S) at each frequency; nothing where the room is off the line.
    std::optional<std::vector<Eigen::MatrixXcd>> fields(const Room& room) const;

  private:
    /// The room at one frequency: small, between the functions of its own that span its fields.
    struct At {
        OperatorScales scales;
        std::vector<std::complex<double>> way;  ///< of the walls' scales
        Eigen::MatrixXcd functions, a, d, load;
    };
    std::optional<std::vector<std::complex<double>>> share(const Room& room) const;

    Air air_;
    std::vector<double> frequency_;
    std::vector<At> at_;
};

}  // namespace boxroom
