#pragma once
#include <array>
#include <functional>
#include <span>

#include "solvers/grid_plan.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

struct GridOptions {
    Stencil stencil = Stencil::nineteen_points;
    double spacing = 0;      ///< [m]; 0: what the highest frequency asks for
    double left_db = 0.05;   ///< the run ends when the sound left moves no level by more
    double longest = 40;     ///< ... or after this much time in the room [s]
    bool in_double = false;  ///< double precision, for tests; twice as slow
    /// Told the share that is done and the seconds that are left (< 0: not yet known).
    std::function<void(double share, double seconds)> progress;
    /// Asked about every twentieth of a second of sound: true gives the run up where it is.
    std::function<bool()> stop;
};

/// What a run was.
struct GridReport {
    std::array<int, 3> cells{};
    std::array<double, 3> spacing{};  ///< [m]
    double time_step = 0;             ///< [s]
    PlanFit fit;                      ///< of a plan that is no rectangle
    int runs = 0;                     ///< one a point on the side with fewer points
    double longest = 0;               ///< time simulated, of the longest run [s]
    double left_db = 0;               ///< by which the sound left could still move a level
    bool settled = true;              ///< every run ended because left_db was reached
    double bytes_per_cell = 0;        ///< of the field and its walls
    double seconds = 0;
};

/// The spacing that grid_transfer takes by itself [m]: 19 nodes a wavelength of the highest
/// frequency, at most 0.12 m.
double default_grid_spacing(const Air& air, std::span<const double> frequency);

/// The room in cells of that size, or of the spacing that the options give; tells what cutting a
/// plan has changed.
GridShape grid_for(const Room& room, const Air& air, std::span<const double> frequency,
                   const GridOptions& options, PlanFit* fit = nullptr);

/// Transfer impedances by finite differences in time; see GridField for the scheme. One run a
/// source or one a receiver, whichever are fewer: the scheme is reciprocal to round-off.
///
/// The transform is taken at the frequency w' at which the scheme, on average over all directions,
/// has the wavelength c/f, sin^2(w'T/2) (2/T)^2 = c^2 k_grid^2 with k_grid^2 the mean of the
/// stencil's symbol over the sphere. That takes out the whole error of the time step and the mean
/// one of the grid. What is left, of second order, is how directions differ (seven points only) and
/// what the walls' difference equations do.
TransferImpedance<double> grid_transfer(const GridShape& shape, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const GridOptions& options = {},
                                        GridReport* report = nullptr);

/// The same for a room, a rectangle or any plan. Throws Error for points outside it, and for a
/// receiver on a source, by the rule of every solver (solvers/check_points.hpp).
TransferImpedance<double> grid_transfer(const Room& room, const Air& air,
                                        std::span<const double> frequency,
                                        std::span<const Point> sources,
                                        std::span<const Point> receivers,
                                        const GridOptions& options = {},
                                        GridReport* report = nullptr);
/// ... in single precision, for whole floors.
TransferImpedance<float> grid_transfer_many(const Room& room, const Air& air,
                                            std::span<const double> frequency,
                                            std::span<const Point> sources,
                                            std::span<const Point> receivers,
                                            const GridOptions& options = {},
                                            GridReport* report = nullptr);

}  // namespace boxroom
