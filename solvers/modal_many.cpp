#include <algorithm>

#include "solvers/decaying_terms.hpp"
#include "solvers/floor_sum.hpp"
#include "solvers/modal.hpp"
#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

TransferImpedance<float> pair_by_pair(const Room& room, const Air& air,
                                      std::span<const double> frequency,
                                      std::span<const Point> sources,
                                      std::span<const Point> receivers) {
    const auto exact = modal_transfer(room, air, frequency, sources, receivers);
    auto result =
        TransferImpedance<float>::unfilled(frequency.size(), receivers.size(), sources.size());
    for (std::size_t i = 0; i < exact.value.size(); ++i)
        result.value[i] = static_cast<std::complex<float>>(exact.value[i]);
    return result;
}

}  // namespace

TransferImpedance<float> modal_transfer_many(const Room& room, const Air& air,
                                             std::span<const double> frequency,
                                             std::span<const Point> sources,
                                             std::span<const Point> receivers, double decay) {
    check_inside(room, sources, "a source");
    check_inside(room, receivers, "a receiver");
    auto result =
        TransferImpedance<float>::unfilled(frequency.size(), receivers.size(), sources.size());
    if (result.value.empty()) return result;
    const FloorLayout layout = lay_out_floor(sources, receivers);
    if (layout.distance < FloorSum::least_distance)  // sources at ear height: no common axis
        return pair_by_pair(room, air, frequency, sources, receivers);
    const FloorSum sum(room, air, layout, receivers, decay);
    // Two octaves and a bit after the other: 10 to 200 Hz are two of them.
    for (std::size_t end = frequency.size(); end > 0;) {
        const auto above =
            std::lower_bound(frequency.begin(), frequency.begin() + end, frequency[end - 1] / 4.6);
        // One at least, whatever the numbers are: no octave lies below what is not above zero.
        const std::size_t first =
            std::min(static_cast<std::size_t>(above - frequency.begin()), end - 1);
        DecayingTerms terms(sum, frequency.subspan(first, end - first));
        using Workspace = FloorSum::Workspace;
        for_each_in_parallel_with<Workspace>(
            terms.nodes(), 1, [&](std::size_t n, Workspace& w) { terms.prepare(n, w); });
        for_each_in_parallel_with<Workspace>(end - first, 4, [&](std::size_t f, Workspace& w) {
            terms.at(f, w);
            sum.give(w, &result.at(first + f, 0, 0));
        });
        end = first;
    }
    return result;
}

}  // namespace boxroom
