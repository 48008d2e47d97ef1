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
    const Point side{space.to.x - space.from.x, space.to.y - space.from.y,
                     space.to.z - space.from.z};
    Room room{side.x, side.y, side.z, {}, {}};
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
Rectangle clear_part(const Room& room, const Opening& opening) {
    const int wall = wall_of(room, opening), axis = wall / 2;
    Rectangle r{opening.from, opening.to, 0};
    const auto side = sides(room);
    const Space* space = opening.space < 0 ? nullptr : &room.plan.spaces[opening.space];
    bool good = true;
    for (const int a : {(axis + 1) % 3, (axis + 2) % 3}) {
        double &low = part(r.low, a), &high = part(r.high, a);
        low = std::max(low, space ? std::max(0.0, coordinates(space->from)[a]) : 0.0);
        high = std::min(high, space ? std::min(side[a], coordinates(space->to)[a]) : side[a]);
        good = good && high - low > 0.01;
    }
    part(r.low, axis) = part(r.high, axis) = wall % 2 ? side[axis] : 0;
    if (space) {
        r.depth =
            wall % 2 ? coordinates(space->from)[axis] - side[axis] : -coordinates(space->to)[axis];
        good = good && r.depth > -0.05 && r.depth < 1;
        r.depth = std::max(r.depth, 1e-3);
    }
    if (!good)
        throw Error("modal solver", "the opening \"" + opening.name + "\" leads nowhere",
                    "it must lie on a wall of the room, with its space behind it within 1 m");
    return r;
}

/// A port of the room as seen from the other end of its passage.
Port other_end(const Port& port, const Space& space) {
    Port end = port;
    end.wall = port.wall ^ 1;
    const int axis = end.wall / 2;
    for (int a = 0; a < 3; ++a) {
        part(end.low, a) -= coordinates(space.from)[a];
        part(end.high, a) -= coordinates(space.from)[a];
    }
    part(end.low, axis) = part(end.high, axis) =
        end.wall % 2 ? coordinates(space.to)[axis] - coordinates(space.from)[axis] : 0;
    return end;
}

Extent extent_of(const Port& port) {
    Extent extent{port.low, port.high, {}};
    extent.order[(port.wall / 2 + 1) % 3] = port.m;
    extent.order[(port.wall / 2 + 2) % 3] = port.n;
    return extent;
}

/// The ports with the walls they are in, ready for every frequency.
struct OpenRoom {
    const Room& room;
    const Air& air;
    std::vector<Port> ports;
    struct InWall {
        int cuboid;
        std::vector<int> member;
        PortWall modes;
    };
    std::vector<InWall> walls;

    OpenRoom(const Room& r, const Air& a, double highest_k) : room(r), air(a), ports(ports_of(r)) {
        std::map<std::pair<int, int>, std::vector<int>> groups;
        for (int i = 0; i < static_cast<int>(ports.size()); ++i)
            groups[{ports[i].cuboid, ports[i].wall}].push_back(i);
        for (const auto& [key, members] : groups) {
            const auto& [cuboid, wall] = key;
            walls.push_back({cuboid, members,
                             PortWall(cuboid == 0 ? room : cuboid_of(room.plan.spaces[cuboid - 1]),
                                      wall, extents_of(members), highest_k)});
        }
    }
    std::vector<Extent> extents_of(const std::vector<int>& members) const {
        std::vector<Extent> extents;
        for (const int i : members) extents.push_back(extent_of(ports[i]));
        return extents;
    }

    /// Mean pressure at each port for unit flow from a port or a point of the room.
    Matrix between_ports(double frequency) const {
        Matrix z = Matrix::Zero(ports.size(), ports.size());
        for (const InWall& to : walls)
            for (const InWall& from : walls) {
                if (to.cuboid != from.cuboid) continue;
                z(to.member, from.member) =
                    &to == &from ? from.modes.self(air, frequency)
                                 : from.modes.transfer(air, frequency, extents_of(to.member));
            }
        return z;
    }
    Matrix from_points(double frequency, const std::vector<Extent>& points) const {
        Matrix z = Matrix::Zero(ports.size(), points.size());
        for (const InWall& wall : walls)
            if (wall.cuboid == 0)
                z(wall.member, Eigen::all) =
                    wall.modes.transfer(air, frequency, points).transpose();
        return z;
    }

    /// What the ports take out of the air beyond what the walls in their place would.
    Matrix admittance(double frequency) const {
        const double omega = 2 * pi * frequency;
        // A hair of loss keeps a passage half a wavelength deep from being singular.
        const Complex k = omega / air.speed_of_sound * (1.0 - 1e-6 * j);
        Matrix y = Matrix::Zero(ports.size(), ports.size());
        for (std::size_t i = 0; i < ports.size(); ++i) {
            const Port& port = ports[i];
            const double share = port.area() / port.mean_square();
            const Wall& wall = port.cuboid == 0
                                   ? room.walls[port.wall]
                                   : room.plan.spaces[port.cuboid - 1].walls[port.wall].wall;
            const double unit = share / air.impedance();
            y(i, i) = -unit * wall.admittance(omega, air);
            if (port.twin < 0) {
                y(i, i) += unit * open_air(port.area(), air).admittance(omega, air);
                continue;
            }
            const Complex along = std::sqrt(k * k - port.wave_number_squared());
            const Complex flow = share * along / (j * omega * air.density);
            y(i, i) += flow / std::tan(along * port.depth);
            y(i, port.twin) = -flow / std::sin(along * port.depth);
        }
        return y;
    }
};

}  // namespace

double Port::area() const {
    const int axis = wall / 2, a = (axis + 1) % 3, b = (axis + 2) % 3;
    return (coordinates(high)[a] - coordinates(low)[a]) *
           (coordinates(high)[b] - coordinates(low)[b]);
}

double Port::wave_number_squared() const {
    const int axis = wall / 2, a = (axis + 1) % 3, b = (axis + 2) % 3;
    return std::pow(m * pi / (coordinates(high)[a] - coordinates(low)[a]), 2) +
           std::pow(n * pi / (coordinates(high)[b] - coordinates(low)[b]), 2);
}

Eigen::MatrixXcd port_flow(const Matrix& z, const Matrix& y, const Matrix& closed) {
    const Matrix system = Matrix::Identity(z.rows(), z.cols()) + z * y;
    return -y * system.partialPivLu().solve(closed);
}

std::vector<Port> ports_of(const Room& room, double highest) {
    std::vector<Port> ports;
    for (const Opening& opening : room.plan.openings) {
        const Rectangle clear = clear_part(room, opening);
        Port port;
        port.wall = wall_of(room, opening);
        port.low = clear.low, port.high = clear.high, port.depth = clear.depth;
        const auto within = [&] { return port.wave_number_squared() <= highest * highest; };
        for (port.m = 0, port.n = 0; within(); ++port.m, port.n = 0)
            for (; within(); ++port.n) {
                ports.push_back(port);
                if (opening.space < 0) continue;
                const int here = static_cast<int>(ports.size()) - 1;
                ports[here].twin = here + 1;
                ports.push_back(other_end(port, room.plan.spaces[opening.space]));
                ports.back().cuboid = opening.space + 1;
                ports.back().twin = here;
            }
    }
    return ports;
}

template <typename Real>
void add_openings(const Room& room, const Air& air, std::span<const double> frequency,
                  std::span<const Point> sources, std::span<const Point> receivers,
                  TransferImpedance<Real>& z) {
    if (room.plan.openings.empty() || z.value.empty()) return;
    const double highest = *std::max_element(frequency.begin(), frequency.end());
    const OpenRoom open(room, air, 2 * pi * highest / air.speed_of_sound);
    std::vector<Extent> ears;
    for (const Point& p : receivers) ears.push_back({p, p, {}});
    std::vector<PortWall::Targets> targets;
    for (const auto& wall : open.walls) targets.push_back(wall.modes.targets(sources));

    for_each_frequency(frequency.size(), [&](std::size_t f) {
        // By reciprocity the receivers sound and the sources listen: one system for all of them.
        const Matrix flow =
            port_flow(open.between_ports(frequency[f]), open.admittance(frequency[f]),
                      open.from_points(frequency[f], ears));
        for (std::size_t w = 0; w < open.walls.size(); ++w) {
            const auto& wall = open.walls[w];
            if (wall.cuboid != 0) continue;
            const Matrix own = flow(wall.member, Eigen::all);
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
