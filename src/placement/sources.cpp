#include "placement/sources.hpp"

#include "placement/cone_load.hpp"

namespace boxroom {

std::vector<ClosedBox> boxes_of(const Scenario& scenario, const Driver& driver,
                                const ClosedBox& box, const std::vector<PlacedSub>& subs) {
    std::vector<ClosedBox> boxes;
    for (const PlacedSub& sub : subs)
        boxes.push_back(sub.volume > 0 ? closed_box(driver, sub.volume, scenario.design.filling)
                                       : box);
    return boxes;
}

Sources sources_of(const Scenario& scenario, const Driver& driver,
                   const std::vector<ClosedBox>& boxes, const std::vector<PlacedSub>& subs,
                   std::span<const double> frequency,
                   const ByFrequency<std::complex<double>>& cones) {
    Sources out;
    out.free = {frequency.size(), subs.size()};
    for (std::size_t q = 0; q < subs.size(); ++q) {
        const auto u = volume_velocity(driver, boxes[q], frequency, scenario.acoustics.air);
        const auto dial = subs[q].dial.factors(frequency);
        for (std::size_t f = 0; f < frequency.size(); ++f) out.free(f, q) = u[f] * dial[f];
    }
    if (cones.empty()) {
        out.velocity = out.free;
        return out;
    }
    out.velocity = loaded_cones(driver, boxes, scenario.acoustics.air, frequency, cones, out.free);
    out.cone_load_db = {frequency.size(), subs.size()};
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t q = 0; q < subs.size(); ++q)
            out.cone_load_db(f, q) = db_of_amplitude(std::abs(out.velocity(f, q) / out.free(f, q)));
    return out;
}

}  // namespace boxroom
