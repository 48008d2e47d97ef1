#pragma once
#include "placement/listening.hpp"
#include "results/crossing.hpp"

namespace boxroom {

/// What a main loudspeaker puts into the room [m3/s] (F): a point source whose pressure is flat
/// down to its low end, a Butterworth high-pass of its order:
///   U = 4 pi r p/(j w rho) H_low H_crossover H_dial,
/// p at r = 1 m from its sensitivity, which sheets give for free field (Kuttruff, Room Acoustics,
/// ch. 1). Without one it is as loud as a sub well above fc, U = 2 pi r p/(j w rho) with p of the
/// sub's passband over an endless floor. Holds while it is small against the wavelength.
std::vector<std::complex<double>> main_velocity(const MainSpeaker& speaker,
                                                const Scenario& scenario, const Driver& driver);

/// The sum at the seats of what `heard` says of the subs, low-passed, and of the scenario's mains,
/// which all play the same. `main_transfer`: Z (F,S,M) from the mains to the seats, empty for none;
/// std::length_error for another shape.
///
/// Agreement: within half an octave of the crossover, mean over ln f and weighted over the seats of
/// 20 log10((|p_subs| + |p_mains|)/|p_subs + p_mains|): what is lost because the two arrive out of
/// step. `best` is the delay (on the steps of [settings], within 15 ms) and polarity with the least
/// loss, by trying every one.
Crossing cross(const Scenario& scenario, const Driver& driver, const Listening& heard,
               const ByFrequency<std::complex<double>>& main_transfer);

/// The same where the mains have still to be solved.
Crossing cross(const Scenario& scenario, const Driver& driver, const Listening& heard);

/// `listen` and cross() with one solution of the room for subs and mains.
Listening listen_with_mains(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                            const std::vector<PlacedSub>& subs, Crossing& crossing);

}  // namespace boxroom
