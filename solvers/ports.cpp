#include "solvers/ports.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <map>

#include "base/error.hpp"
#include "solvers/port_wall.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

using Matrix = Eigen::MatrixXcd;

double& part(Point& p, int axis) {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}

Room cuboid_of(const Space& space) {
    Room room{space.to.x - space.from.x, space.to.y - space.from.y, space.to.z - space.from.z,
              {}, {}};
    for (int w = 0; w < 6; ++w) room.walls[w] = space.walls[w].wall;
    return room;
}

/// The wall an opening lies in: the nearer of the two across its axis.
int wall_of(const Room& room, const Opening& opening) {
    const int axis = opening.axis();
    return 2 * axis + (coordinates(opening.from)[axis] > sides(room)[axis] / 2);
}

struct Rectangle {
    Point low, high;
    double depth;
};

/// The part of the opening within the room's wall and, if it leads to one, within the space.
Rectangle clear_part(const Room& room, const Opening& opening, int wall) {
    const int axis = wall / 2;
    Rectangle r{opening.from, opening.to, 0};
    const auto side = sides(room);
    const Space* space = opening.space < 0 ? nullptr : &room.plan.spaces[opening.space];
    for (int a = 0; a < 3; ++a) {
        if (a == axis) continue;
        part(r.low, a) = std::max(part(r.low, a), 0.0);
        part(r.high, a) = std::min(part(r.high, a), side[a]);
        if (!space) continue;
        part(r.low, a) = std::max(part(r.low, a), coordinates(space->from)[a]);
        part(r.high, a) = std::min(part(r.high, a), coordinates(space->to)[a]);
    }
    part(r.low, axis) = part(r.high, axis) = wall % 2 ? side[axis] : 0;
    bool good = true;
    for (int a = 0; a < 3; ++a)
        good = good && (a == axis || coordinates(r.high)[a] - coordinates(r.low)[a] > 0.01);
    if (space) {
        r.depth = wall % 2 ? coordinates(space->from)[axis] - side[axis]
                           : -coordinates(space->to)[axis];
        good = good && r.depth > -0.05 && r.depth < 1;
        r.depth = std::max(r.depth, 1e-3);
    }
    if (!good)
        throw Error("modal solver", "the opening \"" + opening.name + "\" leads nowhere",
                    "it must lie on a wall of the room, with its space behind it within 1 m");
    return r;
}

/// The patches and what lies behind them, ready for every frequency.
struct OpenRoom {
    std::vector<PortPatch> patches;
    struct Wall {
        int cuboid, wall;
        std::vector<int> patch;
        PortWall modes;
    };
    std::vector<Wall> walls;

    OpenRoom(const Room& room) : patches(port_patches(room)) {
        std::map<std::pair<int, int>, std::vector<int>> groups;
        for (int i = 0; i < static_cast<int>(patches.size()); ++i)
            groups[{patches[i].cuboid, patches[i].wall}].push_back(i);
        for (const auto& [key, members] : groups) {
            std::vector<Extent> extents;
            double smallest = 1e9;
            for (const int i : members) {
                extents.push_back({patches[i].low, patches[i].high});
                smallest = std::min(smallest, std::sqrt(patches[i].area()));
            }
            const Room cuboid = key.first == 0 ? room : cuboid_of(room.plan.spaces[key.first - 1]);
            walls.push_back(
                {key.first, key.second, members, PortWall(cuboid, key.second, extents, 25 / smallest)});
        }
    }

    /// Mean pressure over each extent of a cuboid for unit flow from each of all patches.
    Matrix transfer(const Air& air, double frequency, int cuboid,
                    const std::vector<Extent>& extents) const {
        Matrix z = Matrix::Zero(extents.size(), patches.size());
        for (const Wall& wall : walls) {
            if (wall.cuboid != cuboid) continue;
            const Matrix some = wall.modes.transfer(air, frequency, extents);
            for (std::size_t n = 0; n < wall.patch.size(); ++n) z.col(wall.patch[n]) = some.col(n);
        }
        return z;
    }

    Matrix self(const Air& air, double frequency) const {
        Matrix z = Matrix::Zero(patches.size(), patches.size());
        for (int cuboid = 0;; ++cuboid) {
            std::vector<Extent> extents;
            std::vector<int> members;
            bool more = false;
            for (int i = 0; i < static_cast<int>(patches.size()); ++i) {
                more = more || patches[i].cuboid > cuboid;
                if (patches[i].cuboid != cuboid) continue;
                extents.push_back({patches[i].low, patches[i].high});
                members.push_back(i);
            }
            const Matrix some = transfer(air, frequency, cuboid, extents);
            for (std::size_t n = 0; n < members.size(); ++n) z.row(members[n]) = some.row(n);
            if (!more) return z;
        }
    }

    /// What the patches take out of the air beyond what the walls they replace would.
    Matrix admittance(const Room& room, const Air& air, double frequency) const {
        const double omega = 2 * pi * frequency;
        // A hair of loss keeps a passage half a wavelength deep from being singular.
        const Complex k = omega / air.speed_of_sound * (1.0 - 1e-6 * j);
        Matrix y = Matrix::Zero(patches.size(), patches.size());
        for (std::size_t i = 0; i < patches.size(); ++i) {
            const PortPatch& patch = patches[i];
            const double unit = patch.area() / air.impedance();
            const boxroom::Wall& replaced =
                patch.cuboid == 0 ? room.walls[patch.wall]
                                  : room.plan.spaces[patch.cuboid - 1].walls[patch.wall].wall;
            y(i, i) = -unit * replaced.admittance(omega, air);
            if (patch.twin < 0) {
                y(i, i) += unit * open_air(patch.opening, air).admittance(omega, air);
            } else {
                y(i, i) += unit / (j * std::tan(k * patch.depth));
                y(i, patch.twin) = -unit / (j * std::sin(k * patch.depth));
            }
        }
        return y;
    }
};

}  // namespace

double PortPatch::area() const {
    const double side[3] = {high.x - low.x, high.y - low.y, high.z - low.z};
    const int axis = wall / 2;
    return side[(axis + 1) % 3] * side[(axis + 2) % 3];
}

Eigen::MatrixXcd port_flow(const Matrix& z, const Matrix& y, const Matrix& closed) {
    const Matrix system = Matrix::Identity(z.rows(), z.cols()) + z * y;
    return -y * system.partialPivLu().solve(closed);
}

std::vector<PortPatch> port_patches(const Room& room, double side) {
    std::vector<PortPatch> patches;
    for (const Opening& opening : room.plan.openings) {
        const int wall = wall_of(room, opening), axis = wall / 2;
        const Rectangle clear = clear_part(room, opening, wall);
        const int a = (axis + 1) % 3, b = (axis + 2) % 3;
        const auto low = coordinates(clear.low), high = coordinates(clear.high);
        const int na = static_cast<int>(std::ceil((high[a] - low[a]) / side - 1e-9));
        const int nb = static_cast<int>(std::ceil((high[b] - low[b]) / side - 1e-9));
        for (int n = 0; n < na * nb; ++n) {
            PortPatch patch;
            patch.wall = wall;
            patch.low = clear.low, patch.high = clear.high;
            part(patch.low, a) = low[a] + (high[a] - low[a]) * (n % na) / na;
            part(patch.high, a) = low[a] + (high[a] - low[a]) * (n % na + 1) / na;
            part(patch.low, b) = low[b] + (high[b] - low[b]) * (n / na) / nb;
            part(patch.high, b) = low[b] + (high[b] - low[b]) * (n / na + 1) / nb;
            patch.opening = opening.area();
            patch.depth = clear.depth;
            const int at = static_cast<int>(patches.size());
            if (opening.space < 0) {
                patches.push_back(patch);
                continue;
            }
            patch.twin = at + 1;
            patches.push_back(patch);
            const Space& space = room.plan.spaces[opening.space];
            patch.twin = at;
            patch.cuboid = opening.space + 1;
            patch.wall = wall ^ 1;
            for (int c = 0; c < 3; ++c) {
                part(patch.low, c) -= coordinates(space.from)[c];
                part(patch.high, c) -= coordinates(space.from)[c];
            }
            const auto space_side = sides(cuboid_of(space));
            part(patch.low, axis) = part(patch.high, axis) = patch.wall % 2 ? space_side[axis] : 0;
            patches.push_back(patch);
        }
    }
    return patches;
}

template <typename Real>
void add_openings(const Room& room, const Air& air, std::span<const double> frequency,
                  std::span<const Point> sources, std::span<const Point> receivers,
                  TransferImpedance<Real>& z) {
    if (room.plan.openings.empty() || z.value.empty()) return;
    const OpenRoom open(room);
    std::vector<Extent> ears;
    for (const Point& p : receivers) ears.push_back({p, p});
    std::vector<PortWall::Targets> targets;
    for (const OpenRoom::Wall& wall : open.walls) targets.push_back(wall.modes.targets(sources));

    for_each_frequency(frequency.size(), [&](std::size_t f) {
        // By reciprocity the receivers sound and the sources listen: one system for all of them.
        const Matrix closed = open.transfer(air, frequency[f], 0, ears).transpose();
        const Matrix flow = port_flow(open.self(air, frequency[f]),
                                      open.admittance(room, air, frequency[f]), closed);
        for (std::size_t w = 0; w < open.walls.size(); ++w) {
            const OpenRoom::Wall& wall = open.walls[w];
            if (wall.cuboid != 0) continue;
            Matrix own(wall.patch.size(), flow.cols());
            for (std::size_t n = 0; n < wall.patch.size(); ++n) own.row(n) = flow.row(wall.patch[n]);
            const Matrix change = wall.modes.field(air, frequency[f], targets[w], own);
            for (std::size_t r = 0; r < receivers.size(); ++r)
                for (std::size_t s = 0; s < sources.size(); ++s)
                    z.at(f, r, s) += static_cast<std::complex<Real>>(change(s, r));
        }
    });
}

template void add_openings<float>(const Room&, const Air&, std::span<const double>,
                                  std::span<const Point>, std::span<const Point>,
                                  TransferImpedance<float>&);
template void add_openings<double>(const Room&, const Air&, std::span<const double>,
                                   std::span<const Point>, std::span<const Point>,
                                   TransferImpedance<double>&);

}  // namespace boxroom
