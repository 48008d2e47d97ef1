#include "placement/plane_map.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "placement/criteria.hpp"
#include "placement/listening.hpp"

namespace boxroom {

std::vector<FloorMap> listening_plane_maps(const Scenario& scenario, const Driver& driver,
                                           const ClosedBox& box) {
    // 1. The plane.
    double height = 0, weight = 0;
    for (const Seat& seat : scenario.seats)
        height += seat.weight * seat.at.z, weight += seat.weight;
    height /= weight;
    FloorMap map;
    map.room_width = scenario.acoustics.room.width;
    map.room_length = scenario.acoustics.room.length;
    map.nx = static_cast<int>(std::ceil(map.room_width / 0.1)) + 1;
    map.ny = static_cast<int>(std::ceil(map.room_length / 0.1)) + 1;
    map.dx = map.room_width / (map.nx - 1);
    map.dy = map.room_length / (map.ny - 1);
    map.quantity = "level";
    map.seats = scenario.seats;
    map.subs = scenario.placed.subs;
    map.keep_outs = scenario.wanted.keep_outs;
    std::vector<Point> plane, subs;
    for (int y = 0; y < map.ny; ++y)
        for (int x = 0; x < map.nx; ++x)
            plane.push_back({std::min(x * map.dx, map.room_width),
                             std::min(y * map.dy, map.room_length), height});
    for (const PlacedSub& sub : scenario.placed.subs) subs.push_back(sub.at);

    // 2. The wanted frequency first, then the band.
    std::vector<double> frequency{scenario.wanted.map_frequency}, band_frequency;
    for (double f : scenario.acoustics.frequency)
        if (scenario.judgement.target.band.contains(f)) band_frequency.push_back(f);
    frequency.insert(frequency.end(), band_frequency.begin(), band_frequency.end());
    const auto share = log_mean_weights(band_frequency, scenario.judgement.target.band);
    std::vector<Point> heard = plane;  // points in a solid are asked for elsewhere and not shown
    for (Point& p : heard)
        if (!scenario.acoustics.room.is_rectangle() && !scenario.acoustics.room.contains(p))
            p = scenario.seats.front().at;
    const auto z = room_transfer_many(scenario.acoustics.room, scenario.acoustics.air, frequency,
                                      heard, subs, scenario.acoustics.solver);
    std::vector<std::vector<std::complex<double>>> u;
    for (const ClosedBox& own : boxes_of(scenario, driver, box, scenario.placed.subs))
        u.push_back(volume_velocity(driver, own, frequency, scenario.acoustics.air));
    for (std::size_t q = 0; q < u.size(); ++q)
        for (std::size_t f = 0; f < frequency.size(); ++f)
            u[q][f] *= scenario.placed.subs[q].dial.factor(frequency[f]);

    std::vector<double> single(plane.size()), band(plane.size(), 0.0);
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        for (std::size_t i = 0; i < plane.size(); ++i) {
            std::complex<double> pressure = 0;
            for (std::size_t q = 0; q < subs.size(); ++q)
                pressure += std::complex<double>(z.at(f, q, i)) * u[q][f];
            (f == 0 ? single[i] : band[i]) += std::norm(pressure) * (f == 0 ? 1 : share[f - 1]);
        }
    }

    // 3. As maps.
    for (const Point& p : plane) map.valid.push_back(scenario.acoustics.room.contains(p));
    FloorMap mean = map;
    for (std::size_t i = 0; i < plane.size(); ++i) {
        map.value.push_back(level_db(single[i]));
        mean.value.push_back(level_db(band[i]));
    }
    char text[96];
    std::snprintf(text, sizeof text, "Level at ear height, %.4g Hz", scenario.wanted.map_frequency);
    map.title = text;
    map.name = "level_at_frequency";
    std::snprintf(text, sizeof text, "Level at ear height, %.4g to %.4g Hz",
                  scenario.judgement.target.band.low, scenario.judgement.target.band.high);
    mean.title = text;
    mean.name = "level_in_band";
    return {map, mean};
}

}  // namespace boxroom
