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

/// HDF5, laid out as the contract says; written to a temporary file, then renamed.
/// `crossing` may be null: nothing is crossed over.
void write_listening(const std::filesystem::path& path, const Listening&, const Provenance&,
                     const Crossing* crossing = nullptr);
void write_ranking(const std::filesystem::path& path, const Ranking&, const Provenance&);
void write_plan(const std::filesystem::path& path, const Plan&, const PlanWords&,
                const Provenance&);
/// Throws Error (file, what, mend) for a missing, truncated or foreign file.
Listening read_listening(const std::filesystem::path& path);
/// The room file that a saved run of any command carries. Throws Error as above.
std::string read_input_text(const std::filesystem::path& path);

}  // namespace boxroom
