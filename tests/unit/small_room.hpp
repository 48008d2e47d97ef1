#pragma once
#include "placement/scenario.hpp"

namespace boxroom {

/// A small invented room with two seats and a driver known well enough for absolute levels and
/// limits; the grid of spots and the frequencies are the test's.
inline Scenario small_room(double step, int per_octave) {
    Scenario s;
    s.acoustics.room.width = 3.6, s.acoustics.room.length = 4.4, s.acoustics.room.height = 2.4;
    for (Wall& wall : s.acoustics.room.walls) wall = {{{9000, 0, 0}}};
    s.design.driver.fs = 27, s.design.driver.qts = 0.45, s.design.driver.vas = 0.038;
    s.design.driver.qes = 0.495, s.design.driver.qms = 4.95, s.design.driver.re = 3.4;
    s.design.driver.sd = 0.033, s.design.driver.xmax = 0.011, s.design.driver.power = 250;
    s.design.amplifier = {250.0, 4.0};
    s.seats = {{"a", {1.3, 3.0, 1.1}, 1}, {"b", {2.4, 2.8, 1.1}, 1}};
    s.judgement.target.band = {30, 100};
    s.wanted.spots.step = step;
    s.acoustics.frequency = logarithmic_grid({20, 150}, per_octave);
    return s;
}

}  // namespace boxroom
