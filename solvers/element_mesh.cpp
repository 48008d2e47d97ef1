#include "solvers/element_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

#include "base/error.hpp"
#include "solvers/element_footprint.hpp"

namespace boxroom {
namespace {

using element_parts::Passage;

constexpr int solid = std::numeric_limits<int>::min();
constexpr double touch = 1e-4;  ///< [m]
constexpr std::size_t most_elements = 20000;

bool within(double x, double a, double b) {
    return x > std::min(a, b) - touch && x < std::max(a, b) + touch;
}
bool within(const Point& p, const Point& a, const Point& b) {
    return within(p.x, a.x, b.x) && within(p.y, a.y, b.y) && within(p.z, a.z, b.z);
}

/// Sets of unknowns that turn out to be one.
struct Joined {
    std::vector<int> parent;
    explicit Joined(int count) : parent(count) { std::iota(parent.begin(), parent.end(), 0); }
    int root(int n) {
        while (parent[n] != n) n = parent[n] = parent[parent[n]];
        return n;
    }
    void join(int a, int b) { parent[std::max(root(a), root(b))] = std::min(root(a), root(b)); }
};

/// One side of an element as seen from it: where its middle is and which way is out.
struct SideOf {
    Point middle, outward;
};

struct Mesher {
    const Room& room;
    ElementMesh mesh;
    std::vector<Passage> passage;
    std::vector<int> element_at;  ///< [layer * cells + cell], or -1

    int region_at(const Point& p) const {
        if (p.x > 0 && p.y > 0 && p.z > 0 && p.x < room.width && p.y < room.length &&
            p.z < room.height && room.plan.covers(p.x, p.y))
            return room.plan.block_at(p) ? solid : ElementMesh::room_region;
        for (std::size_t s = 0; s < room.plan.spaces.size(); ++s)
            if (within(p, room.plan.spaces[s].from, room.plan.spaces[s].to))
                return static_cast<int>(s) + 1;
        for (std::size_t n = 0; n < passage.size(); ++n)
            if (within(p, passage[n].from, passage[n].to)) return -1 - static_cast<int>(n);
        return solid;
    }

    void fill();
    void number();
    bool connected(const ElementMesh::Element& a, const ElementMesh::Element& b,
                   const SideOf& side) const;
    SideOf side_of(const ElementMesh::Element& e, int side) const;
    void find_neighbours(std::vector<std::array<int, 6>>& beyond) const;
    int surface_of(const ElementMesh::Element& e, const SideOf& side) const;
    int wall_of_room(const SideOf& side) const;
};

void Mesher::fill() {
    const int cells = static_cast<int>(mesh.footprint.cell.size());
    const int layers = static_cast<int>(mesh.level_degree.size());
    element_at.assign(static_cast<std::size_t>(cells) * layers, -1);
    for (int layer = 0; layer < layers; ++layer)
        for (int cell = 0; cell < cells; ++cell) {
            ElementMesh::Element e{cell, layer, 0, {}};
            e.region = region_at(mesh.centre(e));
            if (e.region == solid) continue;
            element_at[static_cast<std::size_t>(layer) * cells + cell] =
                static_cast<int>(mesh.element.size());
            mesh.element.push_back(std::move(e));
            if (mesh.element.size() > most_elements)
                throw Error("room solver", "the room takes too many elements",
                            "use fewer corners, blocks and openings, or a lower band");
        }
    if (mesh.element.empty())
        throw Error("room solver", "blocks fill the whole room", "make the blocks smaller");
}

SideOf Mesher::side_of(const ElementMesh::Element& e, int side) const {
    Point middle = mesh.centre(e);
    if (side >= 4) {
        middle.z = mesh.level[e.layer + side - 4];
        return {middle, {0, 0, side == 4 ? -1.0 : 1.0}};
    }
    const FootprintCell& cell = mesh.footprint.cell[e.cell];
    const Point& a = mesh.footprint.vertex[cell.corner[side]];
    const Point& b = mesh.footprint.vertex[cell.corner[(side + 1) % 4]];
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    return {{(a.x + b.x) / 2, (a.y + b.y) / 2, middle.z},
            {(b.y - a.y) / length, (a.x - b.x) / length, 0}};
}

/// The element across each side of each: -1 none, -2 the side is no more than a point.
void Mesher::find_neighbours(std::vector<std::array<int, 6>>& beyond) const {
    std::map<std::pair<int, int>, std::vector<std::pair<int, int>>> shared;
    const int cells = static_cast<int>(mesh.footprint.cell.size());
    const int layers = static_cast<int>(mesh.level_degree.size());
    for (int cell = 0; cell < cells; ++cell)
        for (int side = 0; side < 4; ++side) {
            const auto& corner = mesh.footprint.cell[cell].corner;
            const auto [low, high] = std::minmax(corner[side], corner[(side + 1) % 4]);
            if (low != high) shared[{low, high}].push_back({cell, side});
        }
    beyond.assign(mesh.element.size(), {-2, -2, -2, -2, -1, -1});
    const auto at = [&](int cell, int layer) {
        return layer < 0 || layer >= layers
                   ? -1
                   : element_at[static_cast<std::size_t>(layer) * cells + cell];
    };
    for (const auto& [ends, members] : shared)
        for (const auto& [cell, side] : members)
            for (int layer = 0; layer < layers; ++layer) {
                const int here = at(cell, layer);
                if (here < 0) continue;
                beyond[here][side] = -1;
                for (const auto& [other, other_side] : members)
                    if (other != cell) beyond[here][side] = at(other, layer);
            }
    for (std::size_t n = 0; n < mesh.element.size(); ++n)
        for (const int up : {0, 1})
            beyond[n][4 + up] = at(mesh.element[n].cell, mesh.element[n].layer + (up ? 1 : -1));
}

/// Whether air passes between two neighbours.
bool Mesher::connected(const ElementMesh::Element& a, const ElementMesh::Element& b,
                       const SideOf& side) const {
    if (a.region == b.region) return true;
    const double out[3] = {side.outward.x, side.outward.y, side.outward.z};
    for (std::size_t n = 0; n < passage.size(); ++n) {
        const Passage& p = passage[n];
        const int through = -1 - static_cast<int>(n), space = p.space + 1;
        const auto in = [&](int region) {
            return region == through || region == space || region == ElementMesh::room_region;
        };
        if (in(a.region) && in(b.region) && std::abs(out[p.axis]) > 0.99 &&
            within(side.middle, p.from, p.to))
            return true;
    }
    return false;
}

/// The edge of the outline a side lies on, or the wall of the rectangle.
int Mesher::wall_of_room(const SideOf& side) const {
    const auto& outline = room.plan.outline;
    const int edges = outline.empty() ? 4 : static_cast<int>(outline.size());
    if (side.outward.z != 0) return edges + (side.outward.z > 0);
    if (outline.empty())
        return std::abs(side.outward.x) > 0.5 ? (side.outward.x > 0) : 2 + (side.outward.y > 0);
    int best = 0;
    double nearest = std::numeric_limits<double>::max();
    for (int i = 0; i < edges; ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % edges];
        const double dx = b.x - a.x, dy = b.y - a.y, length = std::hypot(dx, dy);
        const double along =
            ((side.middle.x - a.x) * dx + (side.middle.y - a.y) * dy) / (length * length);
        const double t = std::clamp(along, 0.0, 1.0);
        const double off = std::hypot(side.middle.x - a.x - t * dx, side.middle.y - a.y - t * dy);
        const double turned =
            std::abs(dx * side.outward.x + dy * side.outward.y) / length;  // 0: it lies along it
        if (off + turned < nearest) nearest = off + turned, best = i;
    }
    return best;
}

/// Index into surface_walls, or -1 for rigid.
int Mesher::surface_of(const ElementMesh::Element& e, const SideOf& side) const {
    const RoomPlan& plan = room.plan;
    if (e.region < 0) return -1;
    int first = (plan.outline.empty() ? 4 : static_cast<int>(plan.outline.size())) + 2;
    const int blocks = static_cast<int>(plan.blocks.size());
    const int spaces = static_cast<int>(plan.spaces.size());
    if (e.region > 0) {
        const Point& out = side.outward;
        const int wall = std::abs(out.x) > 0.5   ? (out.x > 0)
                         : std::abs(out.y) > 0.5 ? 2 + (out.y > 0)
                                                 : 4 + (out.z > 0);
        return first + blocks + 6 * (e.region - 1) + wall;
    }
    for (std::size_t n = 0; n < plan.openings.size(); ++n)
        if (const Opening& o = plan.openings[n]; o.space < 0 && within(side.middle, o.from, o.to)) {
            const double out[3] = {side.outward.x, side.outward.y, side.outward.z};
            if (std::abs(out[o.axis()]) > 0.99)
                return first + blocks + 6 * spaces + static_cast<int>(n);
        }
    const double step = 2 * touch;
    const Point past{side.middle.x + step * side.outward.x, side.middle.y + step * side.outward.y,
                     side.middle.z + step * side.outward.z};
    for (int n = 0; n < blocks; ++n)
        if (within(past, plan.blocks[n].from, plan.blocks[n].to) && plan.block_at(past))
            return first + n;
    return wall_of_room(side);
}

/// Joins the unknowns of connected elements and finds the walls.
void Mesher::number() {
    std::vector<int> first;
    int count = 0;
    for (auto& e : mesh.element) {
        const auto points = mesh.points(e);
        e.unknown.resize(points[0] * points[1] * points[2]);
        std::iota(e.unknown.begin(), e.unknown.end(), count);
        count += static_cast<int>(e.unknown.size());
    }
    Joined joined(count);
    std::vector<std::array<int, 6>> beyond;
    find_neighbours(beyond);
    for (std::size_t n = 0; n < mesh.element.size(); ++n) {
        const auto& e = mesh.element[n];
        for (int side = 0; side < 6; ++side) {
            const int other = beyond[n][side];
            if (other == -2) {  // a triangle's tip: one column of points
                const auto tip = mesh.on_side(e, side);
                const int along = mesh.points(e)[side % 2];
                for (std::size_t i = 0; i < tip.size(); ++i)
                    joined.join(tip[i], tip[i / along * along]);
                continue;
            }
            const SideOf seen = side_of(e, side);
            if (other < 0 || !connected(e, mesh.element[other], seen)) {
                const int surface = surface_of(e, seen);
                if (surface >= 0) mesh.face.push_back({static_cast<int>(n), side, surface});
                continue;
            }
            if (other < static_cast<int>(n)) continue;
            int across = side >= 4 ? 9 - side : 0;
            while (across < 4 && beyond[other][across] != static_cast<int>(n)) ++across;
            const auto mine = mesh.on_side(e, side),
                       yours = mesh.on_side(mesh.element[other], across);
            for (std::size_t i = 0; i < mine.size(); ++i) joined.join(mine[i], yours[i]);
        }
    }
    std::vector<int> name(count, -1);
    for (auto& e : mesh.element)
        for (int& u : e.unknown) {
            int& named = name[joined.root(u)];
            if (named < 0) named = mesh.unknowns++;
            u = named;
        }
}

}  // namespace

std::array<int, 3> ElementMesh::points(const Element& e) const {
    const auto& degree = footprint.cell[e.cell].degree;
    return {degree[0] + 1, degree[1] + 1, level_degree[e.layer] + 1};
}

std::vector<int> ElementMesh::on_side(const Element& e, int side) const {
    const auto [nx, ny, nz] = points(e);
    std::vector<int> found;
    if (side >= 4) {
        const int z = side == 4 ? 0 : nz - 1;
        for (int i = 0; i < nx * ny; ++i) found.push_back(e.unknown[z * nx * ny + i]);
        return found;
    }
    const auto& corner = footprint.cell[e.cell].corner;
    const bool backwards = corner[side] > corner[(side + 1) % 4];
    const int count = side % 2 ? ny : nx;
    for (int z = 0; z < nz; ++z)
        for (int i = 0; i < count; ++i) {
            const int n = backwards ? count - 1 - i : i;
            const int x = side == 0 ? n : side == 1 ? nx - 1 : side == 2 ? nx - 1 - n : 0;
            const int y = side == 0 ? 0 : side == 1 ? n : side == 2 ? ny - 1 : ny - 1 - n;
            found.push_back(e.unknown[(z * ny + y) * nx + x]);
        }
    return found;
}

Point ElementMesh::centre(const Element& e) const {
    const auto& corner = footprint.cell[e.cell].corner;
    const int count = corner[3] == corner[2] ? 3 : 4;
    Point middle{0, 0, (level[e.layer] + level[e.layer + 1]) / 2};
    for (int n = 0; n < count; ++n) {
        middle.x += footprint.vertex[corner[n]].x / count;
        middle.y += footprint.vertex[corner[n]].y / count;
    }
    return middle;
}

std::vector<Wall> surface_walls(const Room& room, const Air& air) {
    std::vector<Wall> walls;
    for (const NamedWall& edge : room.plan.edges) walls.push_back(edge.wall);
    for (int w = room.plan.edges.empty() ? 0 : floor_wall; w <= ceiling_wall; ++w)
        walls.push_back(room.walls[w]);
    for (const Block& b : room.plan.blocks) walls.push_back(b.surface.wall);
    for (const Space& s : room.plan.spaces)
        for (const NamedWall& wall : s.walls) walls.push_back(wall.wall);
    for (const Opening& o : room.plan.openings) walls.push_back(open_air(o.area(), air));
    return walls;
}

ElementMesh mesh_of(const Room& room, const MeshOptions& options) {
    Mesher mesher{room, {}, element_parts::passages(room), {}};
    mesher.mesh.footprint = element_parts::footprint_of(room, options);
    const element_parts::AxisLines up = element_parts::levels_of(room, options);
    mesher.mesh.level = up.at;
    mesher.mesh.level_degree = up.degree;
    mesher.mesh.surfaces = static_cast<int>(surface_walls(room, Air{}).size());
    mesher.fill();
    mesher.number();
    return std::move(mesher.mesh);
}

}  // namespace boxroom
