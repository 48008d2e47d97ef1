#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "placement/judged_band.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

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
    double points() const { return static_cast<double>(seats_) * band_.count(); }

    /// The summed fields of a set, scaled: one (re, im) for each frequency and seat.
    using Base = std::vector<float>;
    void sum(std::span<const int> set, Base& base) const;
    /// That of one spot more.
    void add(int spot, Base& base) const;

    using Scratch = std::vector<float>;
    /// The sixteen sets that the spots of a block make together with `base`.
    void judge(const Base& base, int block, Scratch& scratch, SetVerdicts& out,
               const SetVectors& vectors = set_vectors()) const;
    /// The same, each verdict within `rough_error`: enough to tell that a set is not wanted.
    void judge_roughly(const Base& base, int block, Scratch& scratch, SetVerdicts& out,
                       const SetVectors& vectors = set_vectors()) const;

  private:
    SetNumbers numbers() const;
    const float* fields(int block) const { return &field_[block * rows() * lane_count]; }
    std::vector<double> even_out(const TransferImpedance<float>& z,
                                 std::span<const double> source_power, std::span<const int> spots);
    void keep_fields(const TransferImpedance<float>& z, std::span<const int> spots,
                     const std::vector<double>& mean);
    std::size_t rows() const { return 2 * static_cast<std::size_t>(band_.frequencies) * seats_; }

    JudgedBand band_;
    int spots_ = 0, seats_ = 0;
    std::vector<float> seat_weight_;  ///< (S)
    std::vector<float> gain_;         ///< (F) undoes the scale
    double level_offset_ = 0;         ///< [dB]
    std::vector<float> field_;        ///< [block][frequency][seat][re, im][lane]
    std::vector<float> by_spot_;      ///< [spot][frequency][seat][re, im]: the same, to be summed
};

}  // namespace boxroom
