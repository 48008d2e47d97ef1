#include "measured/fit_surfaces.hpp"

namespace boxroom {

const Wall& FitSurface::in(const Room& room) const {
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

Wall& FitSurface::in(Room& room) const {
    return const_cast<Wall&>(in(static_cast<const Room&>(room)));
}

std::vector<FitSurface> fit_surfaces(const Scenario& scenario) {
    using Of = FitSurface::Of;
    const Room& room = scenario.acoustics.room;
    std::vector<FitSurface> all;
    for (std::size_t e = 0; e < room.plan.edges.size(); ++e) {
        const NamedWall& edge = room.plan.edges[e];
        all.push_back({"walls." + edge.name, edge.name, edge.description, Of::edges, e});
    }
    for (std::size_t w = room.plan.edges.empty() ? 0 : floor_wall; w < room.walls.size(); ++w) {
        const std::string& key = scenario.wall_keys[w];
        all.push_back({"walls." + key, key, room.wall_description[w], Of::walls, w});
    }
    for (std::size_t b = 0; b < room.plan.blocks.size(); ++b) {
        const Block& block = room.plan.blocks[b];
        all.push_back({"block[" + std::to_string(b) + "].surface", block.name,
                       block.surface.description, Of::blocks, b});
    }
    return all;
}

}  // namespace boxroom
