#pragma once
#include <complex>
#include <string>
#include <string_view>
#include <vector>

#include "base/air.hpp"

namespace boxroom {

/// What stands in a room, as a resistance to the motion of its air. It takes energy from moving air
/// and does not drain the pressure zone.
///
/// rho -> rho (1 - 2j delta/w), hence k^2 -> k^2 (1 - 2j delta/w), and the source's factor and the
/// walls' condition likewise, with delta = c A/(8 V) for Sabine's absorption area A. Between rigid
/// walls every mode but the zero one gains the decay rate delta; the decay time is 6.91/delta.
/// A is constant, or A H(w) with the band-pass H = 1/(1 + j Q (w/w0 - w0/w)), which is passive.
struct Contents {
    double area = 0;            ///< A [m2], at all frequencies or at w0; 0: an empty room
    double q = 0;               ///< Q of the band-pass; 0: the same at all frequencies
    double frequency = 0;       ///< w0/(2 pi) [Hz], where q > 0
    std::string description{};  ///< as the file says it

    bool empty() const { return area <= 0; }
    /// delta(w) [1/s] in a room of `volume` [m3]; w [rad/s] may be complex (decaying modes), not 0.
    std::complex<double> decay_rate(std::complex<double> omega, const Air& air,
                                    double volume) const;
    /// s(w) = 1 - 2j delta/w, by which the air's density and k^2 are multiplied.
    std::complex<double> density_factor(std::complex<double> omega, const Air& air,
                                        double volume) const;
};

/// Contents one can point at: A at w0 for each square metre of floor.
struct NamedContents {
    std::string name;           ///< as written in the room file: "furnished"
    double area_per_floor = 0;  ///< at w0 [m2/m2]
    double low = 0, high = 0;   ///< its doubt
    std::string source;
};

/// Q and w0/(2 pi) of every named kind: little at 50 Hz, as measured rooms at 125 Hz.
inline constexpr double named_contents_q = 3, named_contents_frequency = 140;

/// bare, sparse, furnished, soft.
const std::vector<NamedContents>& named_contents();
/// Throws Error naming the four for any other word.
const NamedContents& find_named_contents(std::string_view name);
Contents contents_of(const NamedContents& named, double floor_area);
/// The same absorption area at all frequencies, for porous treatment.
Contents constant_contents(double area);

}  // namespace boxroom
