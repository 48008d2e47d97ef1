#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "placement/criteria.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// Sixteen floats that one instruction adds, on processors that can; elsewhere several do.
typedef float Lanes __attribute__((vector_size(64)));
inline constexpr int lane_count = 16;

/// log2 of positive numbers: exponent from the bits, t P(t) with P of degree 4 for the rest
/// (minimax on sqrt(1/2) .. sqrt(2)). Error below 1.5e-5, which is 4.5e-5 dB of a power; tests
/// measure it. Zero gives about -127, as good as silence.
Lanes log2_lanes(Lanes x);

/// Judges sets of spots, all with the same box and settings, sixteen sets at a time. The criteria
/// are those of Judge in single precision (within 0.002 dB of it; tests compare).
class SetKernel {
  public:
    /// z: every spot as a source, every seat as a receiver. `source_power`: |U|^2 (F). `spots`: the
    /// sources to keep, which become spots 0 .. size() - 1 here.
    SetKernel(const Judge& judge, const TransferImpedance<float>& z,
              std::span<const double> source_power, std::span<const int> spots);

    /// The same for some of the spots only, which become 0 .. count - 1.
    SetKernel only(std::span<const int> spots) const;

    int size() const { return spots_; }
    int blocks() const { return (spots_ + lane_count - 1) / lane_count; }
    /// Seat-frequency points that one set costs: add, magnitude, logarithm.
    double points() const { return static_cast<double>(seats_) * (band_last_ - band_first_ + 1); }

    /// The summed fields of a set, scaled: one (re, im) for each frequency and seat.
    using Base = std::vector<float>;
    void sum(std::span<const int> set, Base& base) const;

    struct Verdict {  ///< all in dB; level to the same reference as Criteria::level_db
        Lanes spread, unevenness, balance, level;
    };
    struct Scratch {
        std::vector<Lanes> power, prefix;
    };
    /// The sixteen sets that the spots of a block make together with `base`.
    Verdict judge(const Base& base, int block, Scratch& scratch) const;

  private:
    /// As OctaveSmoother::Window, weights already divided by the width; indices among the
    /// frequencies kept here.
    struct Window {
        int low, low_next, high, high_next;
        float low_here_weight, low_next_weight, high_here_weight, high_next_weight, inverse_width;
    };

    int spots_ = 0, seats_ = 0, frequencies_ = 0;
    int band_first_ = 0, band_last_ = 0;       ///< among the frequencies kept here
    std::vector<float> seat_weight_;           ///< (S)
    std::vector<float> band_weight_, target_;  ///< (band); target in log2 units of power
    std::vector<float> gain_, cell_;  ///< (F) undoes the scale; half the way to both neighbours
    std::vector<Window> twelfth_, whole_;  ///< (band)
    double level_offset_ = 0;              ///< [dB]
    std::vector<Lanes> field_;             ///< [block][frequency][seat][re, im]
};

}  // namespace boxroom
