#include "solvers/decaying_terms.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>

namespace boxroom {
namespace {

using Complex = std::complex<double>;

/// How far above the band the modes of far terms lie, over its highest frequency. In a band of two
/// octaves the ellipse up to there has rho = 4.4, so ten nodes leave 4e-7 of the nearest of them.
constexpr double above = 1.5;
constexpr std::size_t fewest_nodes = 10;

/// What k and the ends, in units of pi/L, may be off their polynomials by.
constexpr double closely = 5e-7;

/// k and j k beta of the ends (but for j) of the three axes, in units of pi/L.
using AxesAt = std::array<Complex, 9>;
AxesAt axes_at(const FloorSum& sum, double frequency) {
    AxesAt all;
    std::size_t n = 0;
    for (const AxisProblem& axis : sum.axes(frequency))
        for (const Complex x : {Complex{1}, axis.b0, axis.b1})
            all[n++] = axis.k * x * (axis.length / std::numbers::pi);
    return all;
}

bool axes_follow(const FloorSum& sum, const ChebyshevNodes& nodes,
                 std::span<const double> frequency, std::span<const AxesAt> known) {
    std::vector<AxesAt> at_node;
    for (std::size_t n = 0; n < nodes.size(); ++n) at_node.push_back(axes_at(sum, nodes.at(n)));
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        const std::vector<double> weight = nodes.weights(frequency[f]);
        for (std::size_t i = 0; i < known[f].size(); ++i) {
            Complex off = -known[f][i];
            for (std::size_t n = 0; n < nodes.size(); ++n) off += weight[n] * at_node[n][i];
            if (std::norm(off) > closely * closely) return false;
        }
    }
    return true;
}

/// As many as the axes need; none where these are too many to save time or memory.
ChebyshevNodes enough_nodes(const FloorSum& sum, std::span<const double> frequency) {
    const std::size_t most = frequency.size() / 3;
    if (most >= fewest_nodes && std::is_sorted(frequency.begin(), frequency.end())) {
        std::vector<AxesAt> known;
        for (const double f : frequency) known.push_back(axes_at(sum, f));
        for (std::size_t count = fewest_nodes; count <= most; count += count / 4) {
            ChebyshevNodes nodes(frequency.front(), frequency.back(), count);
            if (axes_follow(sum, nodes, frequency, known)) return nodes;
        }
    }
    return {0, 0, 0};
}

}  // namespace

DecayingTerms::DecayingTerms(const FloorSum& sum, std::span<const double> frequency)
    : sum_(sum),
      frequency_(frequency),
      near_(sum.spreading_terms(above * frequency.back())),
      far_(sum.all_terms(frequency.back())),
      nodes_(enough_nodes(sum, frequency)),
      q2_(nodes()),
      sums_(nodes()) {
    near_.end.resize(std::min(near_.end.size(), far_.end.size()));
    near_.begin.resize(near_.end.size());
    for (std::size_t m = 0; m < near_.end.size(); ++m)
        far_.begin[m] = near_.end[m] = std::min(near_.end[m], far_.end[m]);
}

void DecayingTerms::prepare(std::size_t node, FloorSum::Workspace& w) {
    sum_.add_up(nodes_.at(node), far_, w);
    q2_[node] = w.q2;
    sums_[node] = w.out;
}

/// Whether those of the near terms lie on their polynomials: not where one takes the number of
/// another between frequencies, and with it perhaps a far term's.
bool DecayingTerms::eigenvalues_follow(std::span<const double> weight,
                                       const FloorSum::Eigenvalues& q2) const {
    constexpr double close = 1e-7;  // [1/m2]
    const auto follow = [&](auto axis, int modes) {
        for (int i = 0; i < modes; ++i) {
            double re = -(q2.*axis).re[i], im = -(q2.*axis).im[i];
            for (std::size_t n = 0; n < nodes(); ++n) {
                re += weight[n] * (q2_[n].*axis).re[i];
                im += weight[n] * (q2_[n].*axis).im[i];
            }
            if (re * re + im * im > close * close) return false;
        }
        return true;
    };
    return follow(&FloorSum::Eigenvalues::m, static_cast<int>(near_.end.size())) &&
           follow(&FloorSum::Eigenvalues::n, *std::ranges::max_element(near_.end));
}

void DecayingTerms::at(std::size_t f, FloorSum::Workspace& w) const {
    const auto sum_all = [&] { sum_.add_up(frequency_[f], sum_.all_terms(frequency_[f]), w); };
    if (nodes() == 0) return sum_all();
    const std::vector<double> weight = nodes_.weights(frequency_[f]);
    sum_.add_up(frequency_[f], near_, w);
    if (!eigenvalues_follow(weight, w.q2)) return sum_all();
    const std::vector<float> by(weight.begin(), weight.end());
    std::vector<const float*> from(nodes());
    for (auto plane : {&Planes<float>::re, &Planes<float>::im}) {
        for (std::size_t n = 0; n < nodes(); ++n) from[n] = (sums_[n].*plane).data();
        std::vector<float>& to = w.out.*plane;
        product_vectors().add_weighted(static_cast<int>(to.size()), static_cast<int>(nodes()),
                                       by.data(), from.data(), to.data());
    }
}

}  // namespace boxroom
