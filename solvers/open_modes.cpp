#include "solvers/open_modes.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/number.hpp"
#include "solvers/dense_algebra.hpp"
#include "solvers/open_room.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

/// The openings open step by step, so that every zero is followed from the pole it leaves: the air
/// in them is heavier at first, as if they were deeper by so much [m].
constexpr std::array deeper{20.0, 6.0, 2.0, 0.7, 0.25, 0.08, 0.0};
/// From here on the openings' own resonances are sought too: with more air they would creep.
constexpr double light_enough = 0.7;

Complex omega_of(const Mode& mode) {
    return {2 * pi * mode.frequency, 3 * std::log(10.0) / mode.decay_time};
}

Mode mode_at(const Mode& from, Complex omega) {
    Mode mode = from;
    mode.frequency = omega.real() / (2 * pi);
    mode.decay_time = 3 * std::log(10.0) / omega.imag();
    mode.q = omega.real() / (2 * omega.imag());
    return mode;
}

/// The resonances of the rooms as springs V/(rho c^2) and the openings as masses rho l/S, l being
/// the depth, `more`, and 0.85 sqrt(S/pi) at either end (Kinsler et al., Fundamentals of Acoustics,
/// 4th ed., sec. 10.8) [rad/s]. Only to start from.
std::vector<double> lumped_resonances(const Room& room, const Air& air, double more) {
    const auto count = static_cast<Eigen::Index>(1 + room.plan.spaces.size());
    Eigen::MatrixXd coupling = Eigen::MatrixXd::Zero(count, count);  // S/(rho l)
    Eigen::VectorXd spring(count);
    spring(0) = room.volume();
    for (Eigen::Index n = 1; n < count; ++n)
        spring(n) = cuboid_of(room.plan.spaces[n - 1]).volume();
    spring /= air.density * air.speed_of_sound * air.speed_of_sound;
    for (const Port& port : ports_of(room, 0)) {
        if (port.cuboid != 0) continue;
        const double end = 0.85 * std::sqrt(port.area() / pi);
        const double inverse =
            port.area() / (air.density * (port.depth + 2 * end + (port.twin < 0 ? 1 : 2) * more));
        coupling(0, 0) += inverse;
        if (port.twin < 0) continue;
        const int space = ports_of(room, 0)[port.twin].cuboid;
        coupling(space, space) += inverse;
        coupling(0, space) -= inverse;
        coupling(space, 0) -= inverse;
    }
    const Eigen::VectorXd root = spring.cwiseSqrt().cwiseInverse();
    const Eigen::VectorXd square =
        symmetric_parts(root.asDiagonal() * coupling * root.asDiagonal()).value;
    std::vector<double> found;
    for (const double value : square)
        if (value > 1e-2) found.push_back(std::sqrt(value));
    return found;
}

/// D, its poles and where its zeros are thought to be.
struct Search {
    OpenRoom coarse, open;      ///< with few ports, for the way, and with all
    std::vector<Mode> start;    ///< the shut rooms' modes, then the lumped ones
    std::vector<Complex> pole;  ///< of the shut rooms' modes, all Re > 0
    double at_rest = 0;         ///< how many poles at w = 0
    std::vector<Complex> zero;

    Search(const Room& room, const Air& air, double search)
        : coarse(room, air, 2 * pi * search / air.speed_of_sound, 5),
          open(room, air, 2 * pi * search / air.speed_of_sound) {
        Room shut = room;
        shut.plan = {};
        start = room_modes(shut, air, search);
        for (std::size_t n = 0; n < room.plan.spaces.size(); ++n)
            for (Mode mode : room_modes(cuboid_of(room.plan.spaces[n]), air, search)) {
                mode.cuboid = static_cast<int>(n) + 1;
                start.push_back(mode);
            }
        for (const Mode& mode : start) pole.push_back(omega_of(mode));
        // Off the pole, and each another way: two rooms alike have the same poles.
        for (const Complex p : pole)
            zero.push_back(p + std::polar(0.1, 0.3 + static_cast<double>(zero.size())));
    }

    void add_lumped(const std::vector<double>& resonances) {
        for (const double omega : resonances) {
            start.push_back({});
            zero.push_back(omega * Complex{1, 0.1});
            at_rest += 2;
        }
    }

    /// log D where the openings are deeper by `more`: a wide one has so many ports that D itself
    /// is beyond a double. Its imaginary part is any of those whose e^log is D.
    Complex log_determinant(Complex omega, double more) const {
        const OpenRoom& on = more > 0 ? coarse : open;
        Eigen::MatrixXcd z = on.between_ports(omega);
        z.diagonal() += on.inertia(omega, more);
        return boxroom::log_determinant(Eigen::MatrixXcd::Identity(z.rows(), z.cols()) +
                                        z * on.admittance(omega));
    }

    /// The step that Aberth's method takes from estimate n: 1/(D'/D + sum of 1/(w - poles) - sum of
    /// 1/(w - other zeros)), both with their mirror images at -conj.
    Complex step(std::size_t n, double more) const {
        const Complex w = zero[n];
        const double h = 1e-6 * std::abs(w);
        const Complex ratio = std::exp(log_determinant(w + h, more) - log_determinant(w - h, more));
        Complex slope = (ratio - 1.0) / (h * (ratio + 1.0)) + at_rest / w;
        for (const Complex p : pole) slope += 1.0 / (w - p) + 1.0 / (w + std::conj(p));
        for (std::size_t m = 0; m < zero.size(); ++m) {
            slope -= 1.0 / (w + std::conj(zero[m]));
            if (m != n && zero[m] != w) slope -= 1.0 / (w - zero[m]);
        }
        return 1.0 / slope;
    }
};

/// Newton steps for all estimates at one depth until each is settled, or `most` of them are done;
/// which ones are.
std::vector<char> settle(Search& search, double more, int most) {
    std::vector<char> settled(search.zero.size(), 0);
    for (int round = 0; round < most && !std::ranges::all_of(settled, std::identity{}); ++round) {
        std::vector<Complex> step(search.zero.size(), 0.0);
        for_each_in_parallel(step.size(), 1, [&](std::size_t n) {
            if (settled[n]) return;
            step[n] = search.step(n, more);
            if (!std::isfinite(std::abs(step[n]))) step[n] = 1e-3 * std::abs(search.zero[n]);
        });
        for (std::size_t n = 0; n < step.size(); ++n) {
            // No further than a quarter of an octave at once: D has more zeros than are sought.
            Complex& zero = search.zero[n];
            const double longest = 0.15 * std::abs(zero), size = std::abs(step[n]);
            zero -= size > longest ? step[n] * (longest / size) : step[n];
            zero = {std::abs(zero.real()), std::abs(zero.imag())};  // all swing and decay
            settled[n] = settled[n] || size < std::max(1e-3 * zero.imag(), 1e-8 * std::abs(zero));
        }
    }
    return settled;
}

}  // namespace

std::vector<Mode> open_room_modes(const Room& room, const Air& air, double highest) {
    if (room.plan.openings.empty()) return room_modes(room, air, highest);
    check_inside(room, {}, "");
    // Openings lift modes by some hertz, and those above push those below.
    Search search(room, air, 1.15 * highest);
    std::vector<char> settled;
    for (const double more : deeper) {
        if (more == light_enough) search.add_lumped(lumped_resonances(room, air, more));
        settled = settle(search, more, more > 0 ? 4 : 30);
    }
    std::vector<Mode> modes;
    for (std::size_t n = 0; n < search.zero.size(); ++n) {
        const Complex omega = search.zero[n];
        if (!(omega.imag() > 0 && omega.real() > 0) || omega.real() > 2 * pi * highest) continue;
        // Where walls drain a room faster than its openings swing, there is no such mode; and what
        // an opening lifts out of the searched band is not followed there.
        const bool wanted = n < search.pole.size() && search.start[n].frequency <= highest;
        if (!settled[n] && !wanted) continue;
        if (!settled[n])
            throw NumericalFailure("modes: a mode of the open room was not found near " +
                                   number(omega.real() / (2 * pi), 1) + " Hz");
        modes.push_back(mode_at(search.start[n], omega));
    }
    std::ranges::sort(modes, {}, &Mode::frequency);
    return modes;
}

}  // namespace boxroom
