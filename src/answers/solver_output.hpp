#pragma once
#include "answers/inquiry.hpp"
#include "results/listening.hpp"
#include "results/solver_agreement.hpp"

namespace boxroom {

/// With --solver both: solves for the same subs on the grid and says in words how far that lies
/// off; else empty.
std::string compare_if_asked(Inquiry& inquiry, const ClosedBox& box, const Listening& modal,
                             SolverAgreement& agreement);
/// `solver_agreement` of the JSON document.
nlohmann::ordered_json agreement_json(const SolverAgreement& agreement);

/// [analysis] cone_load: by how much it moved the level at most; else empty. Where it cannot be
/// counted a warning says why.
std::string cone_load_words(Inquiry& inquiry, const Listening& heard);

}  // namespace boxroom
