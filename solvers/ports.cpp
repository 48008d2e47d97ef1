#include "solvers/ports.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "solvers/dense_algebra.hpp"
#include "solvers/open_room.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

using Matrix = Eigen::MatrixXcd;

double& part(Point& p, int axis) {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
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
    return -y * solved(system, closed);
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
    for (const auto& wall : open.walls()) targets.push_back(wall.modes.targets(sources));

    for_each_frequency(frequency.size(), [&](std::size_t f) {
        const double omega = 2 * pi * frequency[f];
        // By reciprocity the receivers sound and the sources listen: one system for all of them.
        const Matrix flow = port_flow(open.between_ports(omega), open.admittance(omega),
                                      open.from_points(omega, ears));
        for (std::size_t w = 0; w < open.walls().size(); ++w) {
            const auto& wall = open.walls()[w];
            if (wall.cuboid != 0) continue;
            const Matrix own = flow(wall.member, Eigen::all);
            const Matrix change = wall.modes.field(air, omega, targets[w], own);
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
