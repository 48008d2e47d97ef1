// Where the window shows the field, and the pressures there.
#include "app/view_fields.hpp"

#include <algorithm>
#include <cmath>

#include "placement/cone_load.hpp"
#include "placement/sources.hpp"
#include "solvers/floor_outline.hpp"
#include "solvers/modal.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

/// The height of the plane: mean ear height, moved where a sub plays in that very plane.
double plane_height(const Scenario& s, const Arrangement& arrangement) {
    double height = 0, weight = 0;
    for (const Seat& seat : arrangement.seats)
        height += seat.weight * seat.at.z, weight += seat.weight;
    height = weight > 0 ? height / weight : s.acoustics.room.height / 2;
    constexpr double least = 0.15;  // nearer, the point source drowns the picture
    const auto clear = [&](double z) {
        return std::all_of(arrangement.boxes.begin(), arrangement.boxes.end(),
                           [&](const auto& b) { return std::abs(b.sub.at.z - z) >= least; });
    };
    for (double step = 0; step < s.acoustics.room.height; step += 0.05)
        for (double z : {height + step, height - step})
            if (z >= 0 && z <= s.acoustics.room.height && clear(z)) return z;
    return height;
}

int points_along(double length, double spacing) {
    return std::max(2, static_cast<int>(std::ceil(length / spacing - 1e-9)) + 1);
}

/// In a room that is no rectangle, the cells whose middle lies in no air.
void mark_outside(FieldPlane& plane, const Room& room) {
    if (room.is_rectangle()) return;
    for (int v = 0; v + 1 < plane.nv; ++v)
        for (int u = 0; u + 1 < plane.nu; ++u)
            plane.outside.push_back(
                !room.contains(plane.at((u + 0.5) / (plane.nu - 1), (v + 0.5) / (plane.nv - 1))));
}

FieldPlane ear_plane(const Scenario& s, const Arrangement& arrangement) {
    FieldPlane plane;
    const double spacing = std::max(s.acoustics.room.width, s.acoustics.room.length) / 59;
    plane.nu = points_along(s.acoustics.room.width, spacing);
    plane.nv = points_along(s.acoustics.room.length, spacing);
    plane.corner = {0, 0, plane_height(s, arrangement)};
    plane.along_u = {s.acoustics.room.width, 0, 0};
    plane.along_v = {0, s.acoustics.room.length, 0};
    mark_outside(plane, s.acoustics.room);
    return plane;
}

/// One plane a wall, u to the right as seen from inside, v up.
std::vector<FieldPlane> wall_planes(const Room& room) {
    std::vector<Point> corner = floor_outline(room);
    // Seen from above with y downwards, this is the way round that leaves the room on the right.
    if (signed_area(corner) < 0) std::reverse(corner.begin(), corner.end());
    std::vector<FieldPlane> planes;
    for (std::size_t i = 0; i < corner.size(); ++i) {
        const Point &a = corner[i], &b = corner[(i + 1) % corner.size()];
        FieldPlane plane;
        plane.corner = {a.x, a.y, 0};
        plane.along_u = {b.x - a.x, b.y - a.y, 0};
        plane.along_v = {0, 0, room.height};
        plane.nu = points_along(std::hypot(b.x - a.x, b.y - a.y), 0.2);
        plane.nv = points_along(room.height, 0.2);
        planes.push_back(plane);
    }
    return planes;
}

/// Z from every sub to all points, [sub][point].
std::vector<std::vector<Complex>> transfers(RoomAnswer& answer, const Scenario& s,
                                            const std::vector<Point>& points, double frequency,
                                            const RoomHearing* hearing) {
    std::vector<std::vector<Complex>> all;
    if (!hearing) {
        // By reciprocity the points are the many sources and the subs the few receivers, which is
        // the shape `modal_transfer_many` is quick at.
        std::vector<Point> subs;
        for (const StandingBox& b : answer.arrangement.boxes) subs.push_back(b.sub.at);
        const auto z = modal_transfer_many(s.acoustics.room, s.acoustics.air,
                                           std::vector{frequency}, points, subs);
        for (std::size_t q = 0; q < subs.size(); ++q)
            all.emplace_back(z.row(0, q), z.row(0, q) + points.size());
        return all;
    }
    for (const StandingBox& b : answer.arrangement.boxes) {
        auto z = hearing->field(b.sub.at, points, frequency);
        if (!z) {
            answer.rough = true;
            z = hearing->sketch(b.sub.at, points, frequency);
        }
        if (!z) return {};
        all.push_back(std::move(*z));
    }
    return all;
}

}  // namespace

std::vector<FieldPlane> field_planes(const Scenario& scenario, const Arrangement& arrangement) {
    std::vector<FieldPlane> planes{ear_plane(scenario, arrangement)};
    if (arrangement.on_walls)
        for (FieldPlane& plane : wall_planes(scenario.acoustics.room))
            planes.push_back(std::move(plane));
    return planes;
}

std::vector<Point> plane_points(const std::vector<FieldPlane>& planes) {
    std::vector<Point> points;
    for (const FieldPlane& plane : planes)
        for (int v = 0; v < plane.nv; ++v)
            for (int u = 0; u < plane.nu; ++u)
                points.push_back(plane.at(u / (plane.nu - 1.0), v / (plane.nv - 1.0)));
    return points;
}

ByFrequency<Complex> cone_impedance_in_window(const Scenario& scenario, const Driver& driver,
                                              const std::vector<PlacedSub>& subs,
                                              const std::vector<double>& frequency,
                                              const RoomHearing* hearing) {
    if (hearing) return {};
    return asked_cone_impedance(scenario, driver, subs, frequency);
}

void fill_fields(RoomAnswer& answer, const Scenario& scenario, const Driver& driver,
                 const ClosedBox& box, const RoomHearing* hearing) {
    std::vector<FieldPlane> planes = field_planes(scenario, answer.arrangement);
    const std::vector<Point> points = plane_points(planes);
    const double wanted = answer.arrangement.frequency;
    const double frequency = hearing ? hearing->nearest_frequency(wanted) : wanted;
    const auto z = transfers(answer, scenario, points, frequency, hearing);
    if (z.empty()) return;
    std::vector<PlacedSub> subs;
    for (const StandingBox& standing : answer.arrangement.boxes) subs.push_back(standing.sub);
    const std::vector<double> alone{frequency};
    const Sources sources =
        sources_of(scenario, driver, std::vector<ClosedBox>(subs.size(), box), subs, alone,
                   cone_impedance_in_window(scenario, driver, subs, alone, hearing));
    std::vector<Complex> pressure(points.size());
    for (std::size_t q = 0; q < z.size(); ++q)
        for (std::size_t i = 0; i < points.size(); ++i)
            pressure[i] += z[q][i] * sources.velocity(0, q);
    std::size_t first = 0;
    for (FieldPlane& plane : planes) {
        plane.frequency = frequency;
        const auto count = static_cast<std::size_t>(plane.nu) * plane.nv;
        for (std::size_t i = first; i < first + count; ++i)
            plane.pressure.push_back(static_cast<std::complex<float>>(pressure[i]));
        first += count;
    }
    answer.field = std::move(planes.front());
    answer.wall_fields.assign(std::make_move_iterator(planes.begin() + 1),
                              std::make_move_iterator(planes.end()));
}

}  // namespace boxroom
