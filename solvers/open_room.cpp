#include "solvers/open_room.hpp"

#include <cmath>
#include <map>

namespace boxroom::modal_parts {
namespace {

using Matrix = Eigen::MatrixXcd;

Extent extent_of(const Port& port) {
    Extent extent{port.low, port.high, {}};
    extent.order[(port.wall / 2 + 1) % 3] = port.m;
    extent.order[(port.wall / 2 + 2) % 3] = port.n;
    return extent;
}

}  // namespace

Room cuboid_of(const Space& space) {
    const Point side{space.to.x - space.from.x, space.to.y - space.from.y,
                     space.to.z - space.from.z};
    Room room{side.x, side.y, side.z, {}, {}};
    for (int w = 0; w < 6; ++w) room.walls[w] = space.walls[w].wall;
    return room;
}

OpenRoom::OpenRoom(const Room& room, const Air& air, double highest_k, double highest_port)
    : room_(room), air_(air), ports_(ports_of(room, highest_port)) {
    std::map<std::pair<int, int>, std::vector<int>> groups;
    for (int i = 0; i < static_cast<int>(ports_.size()); ++i)
        groups[{ports_[i].cuboid, ports_[i].wall}].push_back(i);
    for (const auto& [key, members] : groups) {
        const auto& [cuboid, wall] = key;
        walls_.push_back({cuboid, members,
                          PortWall(cuboid == 0 ? room : cuboid_of(room.plan.spaces[cuboid - 1]),
                                   wall, extents_of(members), highest_k)});
    }
}

std::vector<Extent> OpenRoom::extents_of(const std::vector<int>& members) const {
    std::vector<Extent> extents;
    for (const int i : members) extents.push_back(extent_of(ports_[i]));
    return extents;
}

Matrix OpenRoom::between_ports(Complex omega) const {
    Matrix z = Matrix::Zero(ports_.size(), ports_.size());
    for (const InWall& to : walls_)
        for (const InWall& from : walls_) {
            if (to.cuboid != from.cuboid) continue;
            z(to.member, from.member) =
                &to == &from ? from.modes.self(air_, omega)
                             : from.modes.transfer(air_, omega, extents_of(to.member));
        }
    return z;
}

Matrix OpenRoom::from_points(Complex omega, const std::vector<Extent>& points) const {
    Matrix z = Matrix::Zero(ports_.size(), points.size());
    for (const InWall& wall : walls_)
        if (wall.cuboid == 0)
            z(wall.member, Eigen::all) = wall.modes.transfer(air_, omega, points).transpose();
    return z;
}

Matrix OpenRoom::admittance(Complex omega) const {
    // A hair of loss keeps a passage half a wavelength deep from being singular.
    const Complex k = omega / air_.speed_of_sound * (1.0 - 1e-6 * j);
    Matrix y = Matrix::Zero(ports_.size(), ports_.size());
    for (std::size_t i = 0; i < ports_.size(); ++i) {
        const Port& port = ports_[i];
        const double share = port.area() / port.mean_square();
        const Wall& wall = port.cuboid == 0
                               ? room_.walls[port.wall]
                               : room_.plan.spaces[port.cuboid - 1].walls[port.wall].wall;
        const double unit = share / air_.impedance();
        y(i, i) = -unit * wall.admittance(omega, air_);
        if (port.twin < 0) {
            y(i, i) += unit * open_air(port.area(), air_).admittance(omega, air_);
            continue;
        }
        const Complex along = std::sqrt(k * k - port.wave_number_squared());
        const Complex flow = share * along / (j * omega * air_.density);
        y(i, i) += flow / std::tan(along * port.depth);
        y(i, port.twin) = -flow / std::sin(along * port.depth);
    }
    return y;
}

Eigen::VectorXcd OpenRoom::inertia(Complex omega, double depth) const {
    Eigen::VectorXcd z(ports_.size());
    for (std::size_t i = 0; i < ports_.size(); ++i)
        z(i) = j * omega * air_.density * depth * ports_[i].mean_square() / ports_[i].area();
    return z;
}

}  // namespace boxroom::modal_parts
