#pragma once
#include "app/room_hearing.hpp"
#include "placement/listening.hpp"
#include "results/room_view.hpp"

namespace boxroom {

/// The planes that the field is asked for, without pressures: at ear height first, then the walls
/// where they are wanted.
std::vector<FieldPlane> field_planes(const Scenario& scenario, const Arrangement& arrangement);

/// The points of all planes, one after the other.
std::vector<Point> plane_points(const std::vector<FieldPlane>& planes);

/// What the room does to the cones of these subs, where the file asks for it. Empty where `hearing`
/// is given: every place of a sub would have to be solved for by itself.
ByFrequency<std::complex<double>> cone_impedance_in_window(const Scenario& scenario,
                                                           const Driver& driver,
                                                           const std::vector<PlacedSub>& subs,
                                                           const std::vector<double>& frequency,
                                                           const RoomHearing* hearing);

/// Works out the pressures of the answer's arrangement on all planes, by the modal solver or (where
/// `hearing` is given) from what it knows, else as a sketch. Leaves the fields empty where that
/// fails.
void fill_fields(RoomAnswer& answer, const Scenario& scenario, const Driver& driver,
                 const ClosedBox& box, const RoomHearing* hearing);

}  // namespace boxroom
