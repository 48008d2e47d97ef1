#pragma once
#include <complex>
#include <span>
#include <vector>

#include "placement/set_rules.hpp"
#include "placement/set_search.hpp"
#include "placement/spots.hpp"
#include "results/sets.hpp"
#include "solvers/transfer_impedance.hpp"
#include "woofer/closed_box.hpp"

namespace boxroom {

/// One kind of box: where it fits and what it does from there.
struct BoxKind {
    ClosedBox box;
    Sides outer;
    SpotGrid grid;
    std::vector<int> spots;                    ///< the grid's numbers of those that fit
    std::vector<Point> centres;                ///< of the box on each of these
    TransferImpedance<float> z;                ///< of these
    std::vector<std::complex<double>> source;  ///< U (F)

    /// Throws Error where it fits nowhere.
    BoxKind(const Scenario& scenario, const Driver& driver, const ClosedBox& box);
};

/// The floor of one room for boxes of one kind or several: each kind on each of its spots is a
/// candidate. What is found there by number becomes places here.
struct SetFloor {
    struct Candidate {
        int kind, number;  ///< among the spots of that kind
    };
    const Scenario& scenario;
    const Driver& driver;
    std::vector<BoxKind> kinds;
    std::vector<Candidate> candidates;

    /// Throws Error where a kind fits nowhere.
    SetFloor(const Scenario& scenario, const Driver& driver, const ClosedBox& box);

    bool mixed() const { return !scenario.wanted.set_volumes.empty(); }
    /// Of the candidates, as if all had the first kind's U.
    const TransferImpedance<float>& z() const { return kinds.size() == 1 ? kinds[0].z : z_; }
    std::vector<int> numbers() const;  ///< of all candidates
    SetRules rules() const;
    std::vector<double> source_power() const;  ///< |U|^2 (F) of the first kind
    RankedSet places(const FoundSet& found, int subs) const;
    /// Solves those places of these sets that it has not yet once more, in double precision: the
    /// floor's single is off by some ten-thousandths of a decibel in a deep null, and filters that
    /// are made for it hang on how a processor rounds. Not on a grid, which would have to run
    /// again.
    void solve_in_full(std::span<const RankedSet> sets, std::span<const RankedSet> others);
    /// Z (F,S,K) from where the boxes of a set stand: solved in full, or as the floor is.
    ByFrequency<std::complex<double>> from(const RankedSet& set) const;
    /// (F,S,K): of each of its subs at the seats, neutrally set.
    ByFrequency<std::complex<double>> pressure(const RankedSet& set) const;

  private:
    const BoxKind& kind_of(const RankedSet& set, std::size_t sub) const;
    TransferImpedance<float> z_;  ///< of several kinds
    std::vector<Point> full_at_;
    std::vector<std::vector<std::complex<double>>> full_;  ///< Z (F,S) of each of them
};

}  // namespace boxroom
