#include "solvers/grid_plan.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <memory>

#include "base/error.hpp"

namespace boxroom {
namespace {

using Triple = std::array<double, 3>;
Triple triple(const Point& p) {
    return {p.x, p.y, p.z};
}

/// What fills a cell, and whose surface its neighbours see.
struct Cell {
    enum Kind : std::int8_t { solid, air } kind = solid;
    std::int16_t region = -1;   ///< air: -1 tunnel, 0 the room, 1 + n space n
    std::int16_t surface = -1;  ///< solid: the block's surface, or -1
};

struct Cutter {
    Room room;
    Air air;
    GridShape shape;
    std::vector<Cell> cells;
    std::vector<int> edge_surface;
    int floor = 0, ceiling = 0;
    std::vector<std::array<int, 6>> space_surface;
    std::map<std::array<int, 4>, int> patch;  ///< open faces to the outside: cell and direction

    std::size_t index(int x, int y, int z) const {
        return (static_cast<std::size_t>(z) * shape.cells[1] + y) * shape.cells[0] + x;
    }
    double centre(int axis, int i) const {
        return triple(shape.origin)[axis] + (i + 0.5) * shape.spacing[axis];
    }
    /// The plane of the grid nearest to a coordinate.
    int plane(int axis, double x) const {
        return std::clamp(
            static_cast<int>(std::lround((x - triple(shape.origin)[axis]) / shape.spacing[axis])),
            0, shape.cells[axis]);
    }
    /// Nearest planes; at least one cell apart.
    void range(const Point& from, const Point& to, int low[3], int high[3]) const {
        for (int a = 0; a < 3; ++a) {
            low[a] = plane(a, triple(from)[a]);
            high[a] = plane(a, triple(to)[a]);
            if (high[a] == low[a]) high[a] < shape.cells[a] ? ++high[a] : --low[a];
        }
    }
    template <typename Body>
    void for_each_cell(const int low[3], const int high[3], const Body& body) {
        for (int z = low[2]; z < high[2]; ++z)
            for (int y = low[1]; y < high[1]; ++y)
                for (int x = low[0]; x < high[0]; ++x) body(x, y, z);
    }
    int add_surface(const Wall& wall) {
        shape.surfaces.push_back({wall, 1});
        return static_cast<int>(shape.surfaces.size()) - 1;
    }

    void choose_cells(double spacing, PlanFit& fit);
    void fill_room();
    void fill_spaces();
    void fill_blocks();
    void open(const Opening& opening);
    int edge_near(double x, double y, int axis) const;
    int surface_at(int x, int y, int z, int direction) const;
    void scale_edges(PlanFit& fit);
};

/// The number of cells along each axis for which the furthest face is nearest to a plane. The
/// room's own outer walls always lie on planes, for in a live room a mode that is off by half a
/// percent is many decibels.
void Cutter::choose_cells(double spacing, PlanFit& fit) {
    const RoomPlan& plan = room.plan;
    const double sides[3] = {room.width, room.length, room.height};
    std::array<std::vector<double>, 3> faces{{{0, room.width}, {0, room.length}, {0, room.height}}};
    const auto add = [&](const Point& p) {
        for (int a = 0; a < 3; ++a) faces[a].push_back(triple(p)[a]);
    };
    for (const Point& corner : plan.outline) {
        faces[0].push_back(corner.x);
        faces[1].push_back(corner.y);
    }
    for (const Block& b : plan.blocks) add(b.from), add(b.to);
    for (const Space& s : plan.spaces) add(s.from), add(s.to);
    for (const Opening& o : plan.openings) add(o.from), add(o.to);
    Triple origin;
    for (int a = 0; a < 3; ++a) {
        const auto [low, high] = std::minmax_element(faces[a].begin(), faces[a].end());
        const int least = std::max(4, static_cast<int>(std::ceil(sides[a] / spacing * (1 - 1e-9))));
        double best = std::numeric_limits<double>::max();
        for (int n = least; n <= least + std::max(2, least / 7); ++n) {
            const double h = sides[a] / n;
            double worst = 0;
            for (double x : faces[a]) worst = std::max(worst, std::abs(std::remainder(x, h)));
            if (worst >= best - 1e-6) continue;
            best = worst;
            const int before = static_cast<int>(std::lround(-*low / h));
            shape.cells[a] = before + std::max(n, static_cast<int>(std::lround(*high / h)));
            shape.spacing[a] = h;
            origin[a] = -before * h;
        }
        fit.outline_error = std::max(fit.outline_error, best);
    }
    shape.origin = {origin[0], origin[1], origin[2]};
    cells.resize(static_cast<std::size_t>(shape.cells[0]) * shape.cells[1] * shape.cells[2]);
}

void Cutter::fill_room() {
    int low[3], high[3];
    range({0, 0, 0}, {room.width, room.length, room.height}, low, high);
    // Corners move to the planes of the grid, so that walls along an axis stay straight.
    RoomPlan snapped;
    for (const Point& c : room.plan.outline)
        snapped.outline.push_back({shape.origin.x + plane(0, c.x) * shape.spacing[0],
                                   shape.origin.y + plane(1, c.y) * shape.spacing[1], 0});
    for_each_cell(low, high, [&](int x, int y, int z) {
        if (snapped.covers(centre(0, x), centre(1, y))) cells[index(x, y, z)] = {Cell::air, 0, -1};
    });
}

void Cutter::fill_spaces() {
    for (std::size_t s = 0; s < room.plan.spaces.size(); ++s) {
        int low[3], high[3];
        const Space& space = room.plan.spaces[s];
        range(space.from, space.to, low, high);
        // A wall thinner than a cell: the space gives way by one.
        for_each_cell(low, high, [&](int x, int y, int z) {
            for (int dz = -1; dz <= 1; ++dz)
                for (int dy = -1; dy <= 1; ++dy)
                    for (int dx = -1; dx <= 1; ++dx) {
                        const int n[3] = {x + dx, y + dy, z + dz};
                        if (std::min({n[0], n[1], n[2]}) < 0 || n[0] >= shape.cells[0] ||
                            n[1] >= shape.cells[1] || n[2] >= shape.cells[2])
                            continue;
                        const Cell& other = cells[index(n[0], n[1], n[2])];
                        if (other.kind == Cell::air &&
                            other.region != static_cast<std::int16_t>(s + 1))
                            return;
                    }
            cells[index(x, y, z)] = {Cell::air, static_cast<std::int16_t>(s + 1), -1};
        });
        space_surface.push_back({});
        for (int w = 0; w < 6; ++w) space_surface[s][w] = add_surface(space.walls[w].wall);
    }
}

void Cutter::fill_blocks() {
    for (const Block& block : room.plan.blocks) {
        const auto surface = static_cast<std::int16_t>(add_surface(block.surface.wall));
        int low[3], high[3];
        range(block.from, block.to, low, high);
        for_each_cell(low, high, [&](int x, int y, int z) {
            cells[index(x, y, z)] = {Cell::solid, -1, surface};
        });
    }
}

/// From every cell of air that the rectangle's faces bare: outwards to the space, or a patch.
void Cutter::open(const Opening& opening) {
    const int axis = opening.axis();
    int low[3], high[3];
    range(opening.from, opening.to, low, high);
    const int at = plane(axis, triple(opening.from)[axis]);
    const int surface = opening.space < 0 ? add_surface(open_air(opening.area(), air)) : -1;
    const int longest = static_cast<int>(std::ceil(1.0 / shape.spacing[axis])) + 2;
    int opened = 0;
    low[axis] = 0, high[axis] = 1;
    double bare = 0;
    for_each_cell(low, high, [&](int x, int y, int z) {
        for (int direction = -1; direction <= 1; direction += 2) {
            std::array<int, 3> c{x, y, z};
            c[axis] = direction > 0 ? at - 1 : at;  // the cell inside
            if (c[axis] < 0 || c[axis] >= shape.cells[axis]) continue;
            const Cell& inside = cells[index(c[0], c[1], c[2])];
            if (inside.kind != Cell::air || inside.region != 0) continue;
            if (opening.space < 0) {
                patch[{c[0], c[1], c[2], 2 * axis + (direction > 0)}] = surface;
                bare += shape.spacing[(axis + 1) % 3] * shape.spacing[(axis + 2) % 3];
                ++opened;
                continue;
            }
            std::vector<std::size_t> tunnel;
            for (int n = 0; n < longest; ++n) {
                c[axis] += direction;
                if (c[axis] < 0 || c[axis] >= shape.cells[axis]) break;
                const Cell& here = cells[index(c[0], c[1], c[2])];
                if (here.kind == Cell::air && here.region == opening.space + 1) {
                    for (std::size_t t : tunnel) cells[t] = {Cell::air, -1, -1};
                    ++opened;
                    break;
                }
                if (here.kind == Cell::air && here.region >= 0) break;
                tunnel.push_back(index(c[0], c[1], c[2]));
            }
        }
    });
    if (opened == 0)
        throw Error("grid solver", "the opening \"" + opening.name + "\" leads nowhere",
                    "it must lie on a wall of the room, with its space behind it within 1 m");
    if (surface >= 0) shape.surfaces[surface].area_scale = opening.area() / bare;
}

/// The edge of the outline nearest to a point, among those that a face across `axis` can belong to.
int Cutter::edge_near(double x, double y, int axis) const {
    int best = 0;
    double nearest = std::numeric_limits<double>::max();
    const auto& outline = room.plan.outline;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        const double dx = b.x - a.x, dy = b.y - a.y, length = std::hypot(dx, dy);
        if (std::abs(axis == 0 ? dy : dx) < 1e-6 * length) continue;
        const double t = std::clamp(((x - a.x) * dx + (y - a.y) * dy) / (length * length), 0., 1.);
        const double distance = std::hypot(x - a.x - t * dx, y - a.y - t * dy);
        if (distance < nearest) nearest = distance, best = static_cast<int>(i);
    }
    return best;
}

int Cutter::surface_at(int x, int y, int z, int direction) const {
    const int axis = direction / 2, sign = direction % 2 ? 1 : -1;
    if (const auto found = patch.find({x, y, z, direction}); found != patch.end())
        return found->second;
    int n[3] = {x, y, z};
    n[axis] += sign;
    if (n[axis] >= 0 && n[axis] < shape.cells[axis])
        if (const int block = cells[index(n[0], n[1], n[2])].surface; block >= 0) return block;
    const Cell& cell = cells[index(x, y, z)];
    if (cell.region > 0) return space_surface[cell.region - 1][direction];
    if (axis == 2) return sign < 0 ? floor : ceiling;
    if (room.plan.outline.empty()) return edge_surface[direction];
    double at[2] = {centre(0, x), centre(1, y)};
    at[axis] += sign * shape.spacing[axis] / 2;
    return edge_surface[edge_near(at[0], at[1], axis)];
}

/// Staircases count with the area of the edge they stand for.
void Cutter::scale_edges(PlanFit& fit) {
    const auto& outline = room.plan.outline;
    if (outline.empty()) return;
    std::vector<double> found(outline.size(), 0.0);
    const double z = room.height / 2;
    const int layer = std::clamp(plane(2, z), 0, shape.cells[2] - 1);
    for (int y = 0; y < shape.cells[1]; ++y)
        for (int x = 0; x < shape.cells[0]; ++x)
            for (int direction = 0; direction < 4; ++direction) {
                const int dx = direction == 0 ? -1 : direction == 1,
                          dy = direction == 2 ? -1 : direction == 3;
                const auto in_room = [&](int cx, int cy) {
                    if (cx < 0 || cy < 0 || cx >= shape.cells[0] || cy >= shape.cells[1])
                        return false;
                    const Cell& c = cells[index(cx, cy, layer)];
                    return c.region == 0;
                };
                if (!in_room(x, y) || in_room(x + dx, y + dy)) continue;
                const int axis = direction / 2;
                double at[2] = {centre(0, x), centre(1, y)};
                at[axis] += (direction % 2 ? 0.5 : -0.5) * shape.spacing[axis];
                found[edge_near(at[0], at[1], axis)] += shape.spacing[1 - axis];
            }
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        if (a.x == b.x || a.y == b.y || found[i] == 0) continue;
        double& scale = shape.surfaces[edge_surface[i]].area_scale;
        scale = std::hypot(b.x - a.x, b.y - a.y) / found[i];
        fit.steepest_scale = std::min(fit.steepest_scale, scale);
    }
}

}  // namespace

GridShape grid_of_plan(const Room& room, const Air& air, double spacing, PlanFit* told) {
    PlanFit own;
    PlanFit& fit = told ? *told : own;
    fit = {};
    // The room may be gone by the time the surfaces are asked for: the cutter keeps its own.
    auto cutter = std::make_shared<Cutter>();
    cutter->room = room;
    cutter->air = air;
    cutter->choose_cells(spacing, fit);
    cutter->fill_room();
    if (room.plan.outline.empty())
        for (int w = 0; w < 4; ++w)
            cutter->edge_surface.push_back(cutter->add_surface(room.walls[w]));
    else
        for (const NamedWall& edge : room.plan.edges)
            cutter->edge_surface.push_back(cutter->add_surface(edge.wall));
    cutter->floor = cutter->add_surface(room.walls[floor_wall]);
    cutter->ceiling = cutter->add_surface(room.walls[ceiling_wall]);
    cutter->scale_edges(fit);
    cutter->fill_spaces();
    double volume = room.volume();
    for (const Space& s : room.plan.spaces)
        volume += (s.to.x - s.from.x) * (s.to.y - s.from.y) * (s.to.z - s.from.z);
    for (const Opening& opening : room.plan.openings) cutter->open(opening);
    cutter->fill_blocks();

    GridShape shape = cutter->shape;
    shape.air.resize(cutter->cells.size());
    shape.contents = room.contents;
    shape.contents_volume = room.volume();
    for (std::size_t i = 0; i < shape.air.size(); ++i) {
        const Cell& cell = cutter->cells[i];
        shape.air[i] = cell.kind != Cell::air                       ? solid_cell
                       : cell.region == 0 && !room.contents.empty() ? contents_cell
                                                                    : air_cell;
    }
    shape.surface = [cutter](int x, int y, int z, int direction) {
        return cutter->surface_at(x, y, z, direction);
    };
    fit.volume_error = shape.air_volume() / volume - 1;
    return shape;
}

}  // namespace boxroom
