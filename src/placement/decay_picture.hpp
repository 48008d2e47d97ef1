#pragma once
#include <complex>
#include <functional>

#include "placement/listening.hpp"
#include "results/ringing.hpp"

namespace boxroom {

/// How long a burst of each note is heard at seat `seat` of the scenario, for subs that stand in a
/// rectangle; nothing for other rooms.
///
/// The burst at f has the spectrum of a Gaussian, e^{-(nu - f)^2/(2 s^2)}, s = f/16, about five
/// periods long. Its response p(t) = int P(nu) e^{..} e^{2 pi j nu t} dnu / int e^{..} dnu has the
/// level of the steady tone at t = 0 where P is even, and is the envelope of what is left at t. P
/// is solved every 1/8 Hz, so that what is left after 8 s is folded back.
/// `equaliser`: its complex gain at a frequency; empty: none.
DecayPicture decay_picture(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                           const std::vector<PlacedSub>& subs, std::size_t seat,
                           const std::function<std::complex<double>(double)>& equaliser);

/// The contours of an envelope: for each drop below `mean_db` the last time at which level_db (T,
/// every `step` seconds) is above it, linear between two steps; 0 where it never is.
std::vector<double> last_above(std::span<const double> level_db, double step, double mean_db,
                               std::span<const double> below_db);

}  // namespace boxroom
