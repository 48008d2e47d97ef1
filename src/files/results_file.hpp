#pragma once
#include <filesystem>
#include <string>

#include "placement/wording.hpp"
#include "results/crossing.hpp"
#include "results/listening.hpp"
#include "results/plan.hpp"

namespace boxroom {

struct Provenance {
    std::string version, solver, input_text;
};

/// The bytes of an HDF5 file, laid out as the contract says and sealed (files/hdf5_seal.hpp).
/// `crossing` may be null: nothing is crossed over.
std::string listening_hdf5(const Listening&, const Provenance&, const Crossing* crossing = nullptr);
std::string ranking_hdf5(const Ranking&, const Provenance&);
std::string plan_hdf5(const Plan&, const PlanWords&, const Provenance&);
/// Throws Error (file, what, mend) for a missing, truncated or foreign file, and for one that is
/// not what the manifest beside it lists.
/// Of a saved plan it is the recommendation at the chosen spot.
Listening read_listening(const std::filesystem::path& path);
/// The room file that a saved run of any command carries. Throws Error as above.
std::string read_input_text(const std::filesystem::path& path);

}  // namespace boxroom
