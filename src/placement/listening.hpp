#pragma once
#include "placement/criteria.hpp"
#include "placement/sources.hpp"
#include "results/listening.hpp"

namespace boxroom {

/// Mean-square pressure at 1 m on an endless floor: (w rho |U|/(2 pi))^2 [Pa2].
std::vector<double> half_space_power(std::span<const double> frequency,
                                     std::span<const std::complex<double>> volume_velocity,
                                     const Air& air);

/// Z (F,S,Q) from these points to the scenario's seats, by its solver.
ByFrequency<std::complex<double>> transfer_to_seats(const Scenario& scenario,
                                                    std::span<const Point> sources);

/// The response of `subs` at the scenario's seats, each in its own box (boxes_of()).
Listening listen(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                 const std::vector<PlacedSub>& subs);
/// The same where the room is solved already: `transfer` (F,S,Q), `cones` what cone_impedance()
/// gives or empty. Throws std::length_error for a transfer of other frequencies, seats or subs.
Listening listen_through(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                         const std::vector<PlacedSub>& subs,
                         ByFrequency<std::complex<double>> transfer,
                         const ByFrequency<std::complex<double>>& cones = {});

/// Weighted standard deviation of the level across the seats, population form, for each frequency
/// [dB]: sqrt(sum w (L - mean)^2 / sum w), mean = sum w L / sum w. NaN where a level is not finite;
/// empty if the response is incomplete.
std::vector<double> spread_by_frequency(const Listening& response);

/// The scenario's own box: [box] volume, else Qtc 0.707 (or just above Qts, with a warning).
ClosedBox chosen_box(const Scenario& scenario, const Driver& driver,
                     std::vector<std::string>& warnings);

}  // namespace boxroom
