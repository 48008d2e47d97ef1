#pragma once
#include "solvers/contents.hpp"

namespace boxroom {

/// Contents as a difference equation at a node of the grid.
///
/// Under the pressure p the air moves as if under phi = p/s (s = 1 - 2j delta/w), so the links of
/// the grid act on phi while its springs, walls and sources stay as they are. What the contents
/// keep, r = p - phi, follows
///   d_t- r = delta (phi + phi-)                              for a constant area (trapezoid), or
///   d_tt r + B d_t r + w0^2 r = 2 delta B phi, B = w0/Q,     for the band-pass,
/// both of the form r+ = last r + before r- + drive phi + next p+. Multiplied by the links of phi,
/// d_t p = d_t phi + d_t r gives what the field loses and the contents store: the balance of energy
/// holds with both (GridField::energy). The first does not change the longest time step; the second
/// shortens it by 1/mu, mu = (1 - w0^2 T^2/4) 4/(2 delta B T^2), about 1e-4 for a room.
struct GridContents {
    double last = 0, before = 0, drive = 0, next = 0;
    double rate = 0;        ///< delta of a constant area [1/s], else 0
    double inertia = 0;     ///< 2 delta B of the band-pass [1/s2], else 0
    double own_square = 0;  ///< w0^2 of the band-pass [1/s2]
};

/// `volume` is the room's [m3].
GridContents grid_contents(const Contents& contents, double volume, const Air& air,
                           double time_step);

/// The factor by which contents shorten a longest time step.
double shorter_by_contents(const Contents& contents, double volume, const Air& air,
                           double time_step);

}  // namespace boxroom
