#pragma once
#include <memory>
#include <optional>

#include "measured/fit_solution.hpp"

namespace boxroom {

/// A room with a piece of furniture that the file lacks, as the data want it.
struct Furnished {
    std::unique_ptr<FitParameters> parameters;
    std::unique_ptr<RoomMisfit> misfit;  ///< asks `parameters`
    FitSolution solution;
};

/// Looks along every wall of a rectangle (furniture_to_try), goes on by least squares from the best
/// few, and keeps the best where the odds for it are 20 to 1 and more: the data's probability with
/// it and without it (RoomMisfit::evidence, which charges for every number), one room in two
/// lacking a piece, as likely by one wall as by another. `bare` and `without` are the room as its
/// file has it, fitted; the recordings outlive what comes out.
std::optional<Furnished> find_furniture(const FitQuestion& question,
                                        const std::vector<Recording>& recordings,
                                        const RoomMisfit& bare, const FitParameters& parameters,
                                        const FitSolution& without);

}  // namespace boxroom
