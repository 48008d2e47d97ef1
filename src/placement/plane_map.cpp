#include "placement/plane_map.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "placement/cone_load.hpp"
#include "placement/criteria.hpp"
#include "placement/sources.hpp"

namespace boxroom {

namespace {

/// The plane at ear height, 0.1 m or a little less from point to point; no values yet.
FloorMap blank_plane(const Scenario& scenario) {
    const Room& room = scenario.acoustics.room;
    FloorMap map;
    map.room_width = room.width;
    map.room_length = room.length;
    map.nx = static_cast<int>(std::ceil(map.room_width / 0.1)) + 1;
    map.ny = static_cast<int>(std::ceil(map.room_length / 0.1)) + 1;
    map.dx = map.room_width / (map.nx - 1);
    map.dy = map.room_length / (map.ny - 1);
    map.quantity = "level";
    map.seats = scenario.seats;
    map.subs = scenario.placed.subs;
    map.keep_outs = scenario.wanted.keep_outs;
    return map;
}

std::vector<Point> plane_of(const FloorMap& map) {
    double height = 0, weight = 0;
    for (const Seat& seat : map.seats) height += seat.weight * seat.at.z, weight += seat.weight;
    height /= weight;
    std::vector<Point> plane;
    for (int y = 0; y < map.ny; ++y)
        for (int x = 0; x < map.nx; ++x)
            plane.push_back({std::min(x * map.dx, map.room_width),
                             std::min(y * map.dy, map.room_length), height});
    return plane;
}

/// Squared pressure on the plane (F, points) of the scenario's subs.
ByFrequency<double> plane_power(const Scenario& scenario, const Driver& driver,
                                const ClosedBox& box, const std::vector<Point>& plane,
                                const std::vector<double>& frequency) {
    const Room& room = scenario.acoustics.room;
    std::vector<Point> heard = plane;  // points in a solid are asked for elsewhere and not shown
    for (Point& p : heard)
        if (!room.is_rectangle() && !in_air(room, p)) p = scenario.seats.front().at;
    const auto& subs = scenario.placed.subs;
    const auto z = room_transfer_many(room, scenario.acoustics.air, frequency, heard,
                                      places_of(subs), scenario.acoustics.solver);
    const Sources sources =
        sources_of(scenario, driver, boxes_of(scenario, driver, box, subs), subs, frequency,
                   asked_cone_impedance(scenario, driver, subs, frequency));
    ByFrequency<double> power(frequency.size(), plane.size());
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t i = 0; i < plane.size(); ++i) {
            std::complex<double> pressure = 0;
            for (std::size_t q = 0; q < subs.size(); ++q)
                pressure += std::complex<double>(z.at(f, q, i)) * sources.velocity(f, q);
            power(f, i) = std::norm(pressure);
        }
    return power;
}

std::string title(const char* form, double a, double b = 0) {
    char text[96];
    std::snprintf(text, sizeof text, form, a, b);
    return text;
}

}  // namespace

std::vector<FloorMap> listening_plane_maps(const Scenario& scenario, const Driver& driver,
                                           const ClosedBox& box) {
    // 1. The wanted frequency first, then the band.
    const Band& band = scenario.judgement.target.band;
    std::vector<double> frequency{scenario.wanted.map_frequency}, band_frequency;
    for (double f : scenario.acoustics.frequency)
        if (band.contains(f)) band_frequency.push_back(f);
    frequency.insert(frequency.end(), band_frequency.begin(), band_frequency.end());
    FloorMap single = blank_plane(scenario);
    const auto plane = plane_of(single);
    const auto power = plane_power(scenario, driver, box, plane, frequency);

    // 2. As maps.
    for (const Point& p : plane) single.valid.push_back(scenario.acoustics.room.contains(p));
    FloorMap mean = single;
    const auto share = log_mean_weights(band_frequency, band);
    for (std::size_t i = 0; i < plane.size(); ++i) {
        single.value.push_back(level_db(power(0, i)));
        double in_band = 0;
        for (std::size_t f = 0; f < share.size(); ++f) in_band += share[f] * power(f + 1, i);
        mean.value.push_back(level_db(in_band));
    }
    single.title = title("Level at ear height, %.4g Hz", scenario.wanted.map_frequency);
    single.name = "level_at_frequency";
    mean.title = title("Level at ear height, %.4g to %.4g Hz", band.low, band.high);
    mean.name = "level_in_band";
    return {single, mean};
}

}  // namespace boxroom
