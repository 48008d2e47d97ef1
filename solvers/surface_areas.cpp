#include "solvers/surface_areas.hpp"

#include "solvers/floor_outline.hpp"
#include "solvers/wall_areas.hpp"

namespace boxroom {

std::vector<WallPart> surfaces_by_area(const Room& room) {
    std::vector<WallPart> all;
    const auto& outline = room.plan.outline;
    double floor = room.width * room.length;
    if (outline.empty()) {
        const auto areas = wall_areas(room.width, room.length, room.height);
        for (int w = left_wall; w <= back_wall; ++w) all.push_back({room.walls[w], areas[w], {}});
    } else {
        floor = outline_area(outline);
        for (std::size_t i = 0; i < outline.size(); ++i)
            all.push_back({room.plan.edges[i].wall, edge_length(outline, i) * room.height, {}});
    }
    for (const int w : {floor_wall, ceiling_wall}) all.push_back({room.walls[w], floor, {}});
    for (const Block& block : room.plan.blocks) {
        const double x = block.to.x - block.from.x, y = block.to.y - block.from.y,
                     z = block.to.z - block.from.z;
        all.push_back({block.surface.wall, 2 * (x + y) * z, {}});
    }
    return all;
}

}  // namespace boxroom
