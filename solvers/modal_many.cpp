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
    for_each_in_parallel_with<FloorSum::Workspace>(
        frequency.size(), 4, [&](std::size_t f, auto& w) {
            sum.add_up(frequency[f], sum.all_terms(frequency[f]), w);
            sum.give(w, &result.at(f, 0, 0));
        });
    return result;
}

}  // namespace boxroom
