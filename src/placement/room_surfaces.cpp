#include "placement/room_surfaces.hpp"

#include "solvers/floor_outline.hpp"
#include "solvers/wall_areas.hpp"

namespace boxroom {

const Wall& RoomSurface::in(const Room& room) const {
    switch (of) {
        case Of::edges:
            return room.plan.edges.at(index).wall;
        case Of::blocks:
            return room.plan.blocks.at(index).surface.wall;
        case Of::walls:
            break;
    }
    return room.walls.at(index);
}

Wall& RoomSurface::in(Room& room) const {
    return const_cast<Wall&>(in(static_cast<const Room&>(room)));
}

std::vector<RoomSurface> room_surfaces(const Scenario& scenario) {
    using Of = RoomSurface::Of;
    const Room& room = scenario.acoustics.room;
    const std::vector<Point>& corner = room.plan.outline;
    std::vector<RoomSurface> all;
    for (std::size_t e = 0; e < room.plan.edges.size(); ++e) {
        const NamedWall& edge = room.plan.edges[e];
        const double area = edge_length(corner, e) * room.height;
        all.push_back({"walls." + edge.name, edge.name, edge.description, Of::edges, e, area});
    }
    const auto areas = wall_areas(room.width, room.length, room.height);
    for (std::size_t w = room.plan.edges.empty() ? 0 : floor_wall; w < room.walls.size(); ++w) {
        const std::string& key = scenario.wall_keys[w];
        const double area = room.plan.edges.empty() ? areas[w] : outline_area(corner);
        all.push_back({"walls." + key, key, room.wall_description[w], Of::walls, w, area});
    }
    for (std::size_t b = 0; b < room.plan.blocks.size(); ++b) {
        const Block& block = room.plan.blocks[b];
        all.push_back({"block[" + std::to_string(b) + "].surface", block.name,
                       block.surface.description, Of::blocks, b, 0});
    }
    return all;
}

}  // namespace boxroom
