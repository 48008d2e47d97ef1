#include "placement/cone_load.hpp"

#include <Eigen/Core>
#include <cmath>
#include <numbers>

#include "solvers/dense_algebra.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr double radius = 0.2;  // [m]: the mean does not depend on it, the solver's time does

double folded(double x, double side) {
    return x < 0 ? -x : x > side ? 2 * side - x : x;
}

/// Six points about the source. One that a block or a slanted wall takes is that across from it.
std::vector<Point> sphere(const Room& room, const Point& centre) {
    std::vector<Point> points;
    for (int axis = 0; axis < 3; ++axis) {
        Point pair[2];
        for (int side = 0; side < 2; ++side) {
            const double step = side ? radius : -radius;
            pair[side] = {folded(centre.x + (axis == 0 ? step : 0), room.width),
                          folded(centre.y + (axis == 1 ? step : 0), room.length),
                          folded(centre.z + (axis == 2 ? step : 0), room.height)};
        }
        for (int side = 0; side < 2; ++side)
            points.push_back(room.contains(pair[side]) ? pair[side] : pair[1 - side]);
    }
    return points;
}

/// What the cones give way to pressures `unmoved` at them [m3/s]: with their impedances Z to each
/// other in the room, p = unmoved + Z w and w = -Y p, hence (1 + Z Y) p = unmoved.
Eigen::VectorXcd cone_flow(const Eigen::MatrixXcd& z, const Eigen::MatrixXcd& y,
                           const Eigen::VectorXcd& unmoved) {
    return -y * solved(Eigen::MatrixXcd::Identity(z.rows(), z.cols()) + z * y, unmoved);
}

}  // namespace

ByFrequency<Complex> cone_impedance(const Scenario& scenario, const std::vector<PlacedSub>& subs,
                                    const std::vector<double>& frequency) {
    const std::size_t count = subs.size();
    std::vector<Point> sources, around;
    for (const PlacedSub& sub : subs) {
        sources.push_back(sub.at);
        for (const Point& p : sphere(scenario.acoustics.room, sub.at)) around.push_back(p);
    }
    const auto z = room_transfer(scenario.acoustics.room, scenario.acoustics.air, frequency,
                                 sources, around, scenario.acoustics.solver);
    ByFrequency<Complex> result(frequency.size(), count, count);
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        const double omega = 2 * pi * frequency[f],
                     k = omega / scenario.acoustics.air.speed_of_sound;
        const Complex reactance{0, omega * scenario.acoustics.air.density};
        const double to_centre = k * radius / std::sin(k * radius);
        for (std::size_t p = 0; p < count; ++p)
            for (std::size_t q = 0; q < count; ++q) {
                Complex mean = 0;
                for (std::size_t i = 0; i < 6; ++i) mean += z.at(f, 6 * p + i, q) / 6.0;
                Complex& value = result(f, p, q);
                if (p == q)
                    value = (mean - reactance * std::polar(1.0, -k * radius) / (4 * pi * radius)) *
                                to_centre +
                            omega * scenario.acoustics.air.density * k / (4 * pi);
                else
                    value = mean * to_centre;
            }
    }
    return result;
}

ByFrequency<Complex> asked_cone_impedance(const Scenario& scenario, const Driver& driver,
                                          const std::vector<PlacedSub>& subs,
                                          const std::vector<double>& frequency) {
    if (!scenario.placed.cone_load || !driver.absolute()) return {};
    return cone_impedance(scenario, subs, frequency);
}

ByFrequency<Complex> loaded_cones(const Driver& driver, const std::vector<ClosedBox>& boxes,
                                  const Air& air, std::span<const double> frequency,
                                  const ByFrequency<Complex>& impedance,
                                  const ByFrequency<Complex>& free) {
    free.require(frequency.size(), boxes.size());
    impedance.require(frequency.size(), boxes.size(), boxes.size());
    const auto count = static_cast<Eigen::Index>(boxes.size());
    ByFrequency<Complex> loaded = free;
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        using Matrix = Eigen::Matrix<Complex, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
        const Eigen::MatrixXcd z = Eigen::Map<const Matrix>(impedance.at(f).data(), count, count);
        Eigen::MatrixXcd y = Eigen::MatrixXcd::Zero(count, count);
        for (Eigen::Index q = 0; q < count; ++q)
            y(q, q) = cone_admittance(driver, boxes[q], frequency[f], air);
        Eigen::Map<Eigen::VectorXcd> u(loaded.at(f).data(), count);
        u += cone_flow(z, y, z * u);
    }
    return loaded;
}

}  // namespace boxroom
