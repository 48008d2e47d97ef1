#pragma once
#include <span>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "results/seat.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// Where a room seen from above lies in its SVG, front wall at the top: so many of the drawing's
/// units a metre, and the corner at the left and front wall at (left, top).
struct PlanScale {
    static constexpr double left = 44, top = 40, right = 14, bottom = 30;  ///< margins
    double factor;
    explicit PlanScale(const Room& room);
    double x(double metres) const { return left + metres * factor; }
    double y(double metres) const { return top + metres * factor; }
};

/// Opens the drawing: its size with `more` units below for what follows, and the floor. `css`: more
/// classes. `role` group, or img where nothing in it is to be reached.
std::string plan_floor(const Room& room, const PlanScale& scale, const std::string& css,
                       const std::string& role, const std::string& label, double more = 0);
/// The walls as a closed path.
std::string plan_outline(const Room& room, const PlanScale& scale);
/// Walls, the foremost of them heavy, since the listeners face them.
std::string plan_walls(const Room& room, const PlanScale& scale);
/// Furniture, pillars and chimney breasts; boxes keep off them as off any kept-free ground.
std::string plan_blocks(const Room& room, const PlanScale& scale);
/// Where the walls are open.
std::string plan_openings(const Room& room, const PlanScale& scale);
/// Hatched, with their names where these have room beside those of the seats.
std::string plan_keep_outs(std::span<const KeepOut> keep_outs, std::span<const Seat> seats,
                           const PlanScale& scale);
/// Circles with names, in the seats' colours: groups .plan-seat that sit at their places by a
/// transform.
std::string plan_seats(std::span<const Seat> seats, const Room& room, const PlanScale& scale);
/// Ticks along the left and the back wall, each metre or each 2 ft (more in long rooms); for a page
/// that changes its units, both.
std::string plan_ticks(const Room& room, const PlanScale& scale, Units units, bool in_both);

}  // namespace boxroom
