#pragma once
#include <span>
#include <vector>

#include "solvers/chebyshev_nodes.hpp"
#include "solvers/floor_sum.hpp"

namespace boxroom {

/// The sum over a floor at frequencies of two octaves or so, most of whose terms decay from source
/// to receiver at all of them.
///
/// Such a term is analytic in frequency up to the mode's own, which lies above the band: a
/// polynomial through few of its values gives it anywhere in the band to single precision. So these
/// terms are summed at Chebyshev's nodes alone, and what spreads at every frequency. The walls come
/// into a term by k, by j k beta of the ends and by the modes' q^2. Those are known at every
/// frequency: where one does not lie on its own polynomial, every term is summed.
class DecayingTerms {
  public:
    /// Frequencies that do not rise have no nodes.
    DecayingTerms(const FloorSum& sum, std::span<const double> frequency);
    /// None where polynomials would save nothing.
    std::size_t nodes() const { return nodes_.size(); }
    /// Once for each node, in any order or at the same time, before at().
    void prepare(std::size_t node, FloorSum::Workspace& w);
    /// The whole sum at frequency f of the band, to w.out.
    void at(std::size_t f, FloorSum::Workspace& w) const;

  private:
    bool eigenvalues_follow(std::span<const double> weight, const FloorSum::Eigenvalues& q2) const;

    const FloorSum& sum_;
    std::span<const double> frequency_;
    FloorSum::Rows near_, far_;
    ChebyshevNodes nodes_;
    std::vector<FloorSum::Eigenvalues> q2_;  ///< at each node
    std::vector<Planes<float>> sums_;        ///< of the far terms at each node
};

}  // namespace boxroom
