#pragma once
#include "placement/scenario.hpp"

namespace boxroom {

/// The inputs of one draw.
struct Draw {
    Room room;
    std::vector<Seat> seats;
    std::vector<Point> shift;  ///< of sub 0 .. 3, on the floor
    DriverSheet driver;
};

/// Draw number n: every uncertain input uniform within its bounds, factors uniform in their
/// logarithm, each wall and seat by itself (the height of the ears together), the driver by
/// drawn_driver(). What stands in the far half of the room keeps its distance from the far wall.
/// The size of a room with a floor plan, blocks or openings is not drawn.
/// The same n and seed give the same draw, whatever else is drawn.
Draw draw_inputs(const Scenario& scenario, int n);

/// The room with every surface and what stands in it as hard (1) or as soft (-1) as draws may have
/// it, or between.
Room with_hardness(const Scenario& scenario, double share);

/// A place in the room as drawn: by the nearer of two walls, moved by `shift`, and never outside.
/// In a room that is no rectangle it goes with all corners alike, and a shift that leads out of the
/// air is halved until it does not.
Point moved(Point p, const Room& was, const Room& is, const Point& shift);

/// By what factor each part of a driver differs from the one the sheet describes. They are made
/// apart and so vary by themselves; what a sheet lists follows from all of them.
struct DriverParts {
    double compliance = 1;  ///< of the suspension, Cms
    double mass = 1;        ///< that moves, Mms
    double coil = 1;        ///< its resistance, Re
    double magnet = 1;      ///< force factor, Bl
    double losses = 1;      ///< mechanical, Rms
};

/// The sheet of a driver whose parts differ by these factors (Small, JAES 20(5) 1972, sec. 1): fs ~
/// (Cms Mms)^-1/2, Vas ~ Cms, Qes ~ (Mms/Cms)^1/2 Re/Bl^2, Qms ~ (Mms/Cms)^1/2/Rms, Qts from both
/// (as Qes where only Qts is known). Every value follows its own law, so that a sheet says the same
/// driver whichever of them it lists.
DriverSheet drawn_driver(const DriverSheet& sheet, const DriverParts& parts, const Air& air);

/// How far the parts spread, either way, for Uncertainty::driver = d: the suspension, and the
/// losses in it, by (1 + d)^2, which moves fs by d; mass, coil and magnet by (1 + d)^1/2. With the
/// usual 10
/// %: 21 % and 5 % (common practice among makers: moving parts are glued and wound to a few per
/// cent, suspensions are not).
DriverParts widest_parts(double d);

}  // namespace boxroom
