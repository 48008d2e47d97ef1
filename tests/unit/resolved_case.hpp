#pragma once
// Random rooms on which the criteria are worked out on one analysis grid and another.
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "placement/criteria.hpp"
#include "solvers/constructions.hpp"
#include "solvers/modal.hpp"

namespace boxroom::resolved {

struct Case {
    Room room;
    Point sub;
    std::vector<Seat> seats;
};

/// Every third room is live: heavy walls, absorption 0.015 to 0.03, bare.
inline Case random_case(int n, std::mt19937_64& random, const Air& air) {
    const auto uniform = [&](double a, double b) {
        return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53;
    };
    Case c;
    c.room.width = uniform(2.8, 6), c.room.length = c.room.width * uniform(1, 1.7);
    c.room.height = uniform(2.3, 3);
    const bool live = n % 3 == 0;
    for (Wall& wall : c.room.walls)
        wall =
            live ? wall_from_absorption(uniform(0.015, 0.03), air)
                 : wall_from_construction(constructions()[random() % constructions().size()], air);
    if (!live && n % 2)
        c.room.contents = contents_of(named_contents()[2], c.room.width * c.room.length);
    c.sub = {uniform(0.2, 0.8) * c.room.width, uniform(0.2, 0.5), 0.25};
    for (int s = 0; s < 3; ++s)
        c.seats.push_back({"",
                           {uniform(0.2, 0.8) * c.room.width, uniform(0.5, 0.9) * c.room.length,
                            uniform(1.0, 1.2)},
                           1});
    return c;
}

/// Of the room's answer to a source that is flat in half space.
inline Criteria judged(const Case& c, const Air& air, const Target& target,
                       const std::vector<double>& frequency) {
    std::vector<Point> ears;
    for (const Seat& seat : c.seats) ears.push_back(seat.at);
    const auto z = modal_transfer(c.room, air, frequency, std::array{c.sub}, ears);
    ByFrequency<double> power(frequency.size(), ears.size());
    for (std::size_t f = 0; f < frequency.size(); ++f)  // U ~ 1/f: flat in half space
        for (std::size_t s = 0; s < ears.size(); ++s)
            power(f, s) = std::norm(z.at(f, s, 0) / frequency[f]) * 1e-8;
    const Judge judge(frequency, c.seats, target);
    Criteria out;
    judge.judge_seats(power, out);
    judge.judge_average(judge.seat_average(power), out);
    return out;
}

}  // namespace boxroom::resolved
