#pragma once
#include "placement/listening.hpp"
#include "results/solver_agreement.hpp"

namespace boxroom {

/// The same subs and seats by the grid solver, against `modal`, up to 150 Hz: that is how far the
/// default grid is made to agree. Throws Error where no frequency lies below that.
SolverAgreement compare_solvers(const Scenario& scenario, const Driver& driver,
                                const ClosedBox& box, const Listening& modal);

/// The largest and the mean difference of two responses on the same frequencies and seats.
SolverAgreement difference(const Listening& first, const Listening& second, double up_to);

/// One sentence or two: by how much the solvers differ and where, and what that is worth.
std::string agreement_words(const SolverAgreement& agreement);

}  // namespace boxroom
