#pragma once
#include "placement/criteria.hpp"
#include "results/listening.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// Mean-square pressure at 1 m on an endless floor: (w rho |U|/(2 pi))^2 [Pa2].
std::vector<double> half_space_power(std::span<const double> frequency,
                                     std::span<const std::complex<double>> volume_velocity,
                                     const Air& air);

/// The box of each sub: of its own volume, or `box`.
std::vector<ClosedBox> boxes_of(const Scenario& scenario, const Driver& driver,
                                const ClosedBox& box, const std::vector<PlacedSub>& subs);

/// The response of `subs` at the scenario's seats, each in its own box (boxes_of()).
Listening listen(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                 const std::vector<PlacedSub>& subs);
/// The same where the room is solved already: `transfer` is (F,S,Q) as in Listening, `cones` what
/// cone_impedance() gives or empty.
Listening listen_through(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                         const std::vector<PlacedSub>& subs,
                         std::vector<std::complex<double>> transfer,
                         const std::vector<std::complex<double>>& cones = {});

/// Weighted standard deviation of the level across the seats, population form, for each frequency
/// [dB]: sqrt(sum w (L - mean)^2 / sum w), mean = sum w L / sum w. NaN where a level is not finite;
/// empty if the response is incomplete.
std::vector<double> spread_by_frequency(const Listening& response);

/// The scenario's own box: [box] volume, else Qtc 0.707 (or just above Qts, with a warning).
ClosedBox chosen_box(const Scenario& scenario, const Driver& driver,
                     std::vector<std::string>& warnings);

}  // namespace boxroom
