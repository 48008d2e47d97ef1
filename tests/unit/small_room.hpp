#pragma once
#include "placement/scenario.hpp"

namespace boxroom {

/// A small invented room with two seats and a driver known well enough for absolute levels and
/// limits; the grid of spots and the frequencies are the test's.
inline Scenario small_room(double step, int per_octave) {
    Scenario s;
    s.room.width = 3.6, s.room.length = 4.4, s.room.height = 2.4;
    for (Wall& wall : s.room.walls) wall = {{{9000, 0, 0}}};
    s.driver.fs = 27, s.driver.qts = 0.45, s.driver.vas = 0.038;
    s.driver.qes = 0.495, s.driver.qms = 4.95, s.driver.re = 3.4;
    s.driver.sd = 0.033, s.driver.xmax = 0.011, s.driver.power = 250;
    s.amplifier = {250.0, 4.0};
    s.seats = {{"a", {1.3, 3.0, 1.1}, 1}, {"b", {2.4, 2.8, 1.1}, 1}};
    s.target.band = {30, 100};
    s.spots.step = step;
    s.frequency = logarithmic_grid({20, 150}, per_octave);
    return s;
}

}  // namespace boxroom
