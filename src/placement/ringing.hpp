#pragma once
#include <complex>
#include <span>
#include <string>
#include <vector>

#include "base/by_frequency.hpp"
#include "placement/scenario.hpp"
#include "results/listening.hpp"
#include "results/ringing.hpp"
#include "solvers/free_oscillations.hpp"

namespace boxroom {

/// The decay time (60 dB) above which listeners noticed a single resonance in music-like sound [s]:
/// 0.85 s at 32 Hz falling to 0.2 s at 100 Hz and above, straight over ln f between (Stephenson,
/// PhD thesis, University of Salford, 2012). Below 32 Hz nothing was tested: the value at 32 Hz.
double ringing_threshold(double frequency);

/// The same from a constant Q of 16, decay time 6 ln 10 Q/(2 pi f): 1.1, 0.56, 0.28 s at 32, 63,
/// 125 Hz (Avis, Fazenda & Davies, JAES 55, 2007).
double ringing_threshold_of_q16(double frequency);

/// A mode counts as heard at a seat where its own level there is no further than this under the
/// seat average [dB].
inline constexpr double heard_within_db = 10;

/// The modes of a room that ring longer than listeners' threshold, within the analysed band, and
/// what each does at the seats. Empty where nobody knows the modes: see knows_free_oscillations.
class RingingModes {
  public:
    RingingModes(const Acoustics& acoustics, std::span<const Seat> seats, const Band& target);

    bool known() const { return known_; }  ///< the room has modes that can be worked out
    std::size_t size() const { return modes_.size(); }
    const Mode& mode(std::size_t n) const { return modes_[n].free.mode; }

    /// Notes that hang at a seat: modes heard there (heard_within_db), one entry a mode, at the
    /// seat where it is loudest against the seat average; the longest against its threshold first.
    std::vector<RingingNote> notes(const Listening& heard) const;

    /// The criterion "ringing" [s] of sources that play together: the largest over modes and seats
    /// of
    ///   (decay time - threshold) clamp(1 + (L_N,seat - L)/10 dB, 0, 1),
    /// L_N,seat the mode's own level and L the seat average at its frequency: a mode ceases to
    /// count bit by bit as it sinks to 10 dB under the average. `flow`: volume velocities (F,Q)
    /// [m3/s]; `average`: the seat average of |p|^2 that they make (F) [Pa2]. 0 where nothing
    /// hangs, NaN where modes are not known.
    double excess(std::span<const Point> sources, const ByFrequency<std::complex<double>>& flow,
                  std::span<const double> average) const;
    double excess(const Listening& heard) const;

  private:
    struct Ringer {
        FreeOscillation free;
        double threshold;
        std::size_t below;                          ///< frequency of the grid at or under it
        double share;                               ///< of the way to the next, over ln f
        std::vector<std::complex<double>> at_seat;  ///< psi (S)
    };
    /// The mode's pressure but for psi at the seat [Pa], for volume velocities (F,Q).
    std::complex<double> drive_of(const Ringer& ringer, std::span<const Point> sources,
                                  const ByFrequency<std::complex<double>>& flow) const;
    double between(const Ringer& ringer, std::span<const double> value_db) const;

    std::vector<Ringer> modes_;
    Band target_;
    bool known_ = false;
};

/// "41 Hz hangs 0.9 s at the sofa; listeners notice above 0.7 s." and how many more, of the notes
/// in the target band; empty where none of them hangs.
std::string ringing_words(const std::vector<RingingNote>& notes);

}  // namespace boxroom
