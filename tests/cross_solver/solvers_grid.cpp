// The grid solver against the exact modal solver, and against exact solutions of its own.
#include "solvers/grid.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "base/frequency_grid.hpp"
#include "cross_solver/differences.hpp"
#include "solvers/grid_field.hpp"
#include "solvers/modal.hpp"
#ifdef _OPENMP
#include <omp.h>
#endif

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

const std::vector<Point> seats{{1.5, 2.0, 1.2}, {2.1, 2.4, 1.1}, {1.0, 2.7, 1.15}};

Room damped_cube() {
    Room room{3.0, 3.1, 2.9, {}, {}};
    room.walls = {Wall{{{2000, 0, 0}}}, Wall{{{3000, 0, 0}}}, Wall{{{2500, 0, 0}}},
                  Wall{{{1800, 0, 0}}}, Wall{{{8000, 0, 0}}}, Wall{{{1500, 0, 0}}}};
    return room;
}
Room studs_and_concrete() {
    Room room{3.6, 6.3, 2.7, {}, {}};
    room.walls = {Wall{{{1500, 9, 1841905.05}}},   Wall{{{41000, 0, 0}}},
                  Wall{{{2200, 11, 1834759.458}}}, Wall{{{41000, 0, 0}}},
                  Wall{{{41000, 0, 0}}},           Wall{{{1800, 9, 2273956.854}}}};
    return room;
}
Room resistive() {
    Room room{4.1, 5.2, 2.45, {}, {}};
    room.walls = {Wall{{{9000, 0, 0}}},  Wall{{{14000, 0, 0}}}, Wall{{{7000, 0, 0}}},
                  Wall{{{20000, 0, 0}}}, Wall{{{30000, 0, 0}}}, Wall{{{11000, 0, 0}}}};
    return room;
}
/// Several branches in parallel, and masses and springs alone.
Room many_branches() {
    Room room = resistive();
    room.walls[0] = {{{2000, 12, 1.5e6}, {30000, 0, 0}, {5000, 40, 0}}};
    room.walls[3] = {{{9000, 0, 4e6}, {8000, 25, 0}}};
    room.walls[5] = {{{1500, 9, 5e5}, {900, 6, 3e6}}};
    return room;
}

}  // namespace

TEST_CASE("Grid: within 0.5 dB and 3 degrees of the modal solver at the default grid") {
    const auto frequency = logarithmic_grid({10, 200}, 48);
    const std::vector<Point> sources{{0.35, 0.4, 0.22}, {2.6, 0.3, 0.25}};
    int number = 0;
    Room ringing{2.73, 4.70, 3.39, {}, {}};  // light walls on springs, in tune with its modes
    ringing.walls = {Wall{{{3900, 0, 0}}},       Wall{{{4500, 22.5, 5.4e6}}},
                     Wall{{{2770, 8.9, 5.9e5}}}, Wall{{{310, 4.9, 5.7e6}}},
                     Wall{{{33000, 0, 0}}},      Wall{{{22000, 0, 0}}}};
    for (const Room& room :
         {damped_cube(), studs_and_concrete(), resistive(), many_branches(), ringing}) {
        GridReport report;
        const auto z = grid_transfer(room, Air{}, frequency, sources, seats, {}, &report);
        const auto exact = modal_transfer(room, Air{}, frequency, sources, seats);
        const Difference d = worst(z, exact, frequency);
        INFO("room " << number++ << ": " << d.level << " dB, " << d.phase
                     << " degrees, h = " << report.spacing[0]);
        CHECK(d.level < 0.5);
        CHECK(d.phase < 3);
        CHECK(report.settled);
        CHECK(report.runs == 2);
        CHECK(report.bytes_per_cell < 32);
    }
}

TEST_CASE("Grid: the error falls as the square of the spacing, for both stencils") {
    // Sides that 0.3, 0.2 and 0.15 m all divide.
    Room room = many_branches();
    room.width = 3.0, room.length = 3.6, room.height = 2.4;
    const std::vector<double> frequency{22, 35, 48, 60, 75, 90};
    const std::vector<Point> sources{{0.43, 0.52, 0.31}}, receivers{{1.9, 2.3, 1.17}};
    const auto exact = modal_transfer(room, Air{}, frequency, sources, receivers);
    for (const Stencil stencil : {Stencil::seven_points, Stencil::nineteen_points}) {
        std::vector<double> error;
        for (const double spacing : {0.3, 0.2, 0.15}) {
            GridOptions options;
            options.stencil = stencil, options.spacing = spacing;
            options.in_double = true, options.left_db = 1e-4;
            error.push_back(mean_error(
                grid_transfer(room, Air{}, frequency, sources, receivers, options), exact));
        }
        INFO("errors " << error[0] << ' ' << error[1] << ' ' << error[2]);
        const double first = std::log(error[0] / error[1]) / std::log(1.5);
        const double second = std::log(error[1] / error[2]) / std::log(4.0 / 3);
        INFO("orders " << first << ' ' << second);
        CHECK(first > 1.7);
        CHECK(first < 2.6);
        CHECK(second > 1.7);
        CHECK(second < 2.6);
        CHECK(error[2] < 0.1);
    }
}

TEST_CASE("Grid: a mode of the rigid box swings at the frequency of the dispersion relation") {
    // sin^2(wT/2) = c^2 T^2/4 sum_a 4 sin^2(n pi/(2 N_a))/h_a^2, for nineteen points less a third
    // of the products: to round-off, at every node and step.
    Room room{2.1, 1.7, 1.3, {}, {}};
    const GridShape shape = grid_of_room(room, 0.16);
    const Air air;
    const int order[3] = {3, 2, 5};
    for (const Stencil stencil : {Stencil::seven_points, Stencil::nineteen_points}) {
        const GridNodes nodes = grid_nodes(shape, stencil);
        const double t = 0.999 * longest_time_step(shape, stencil, air);
        GridField<double> field(shape, nodes, air, t);
        double symbol = 0, part[3];
        for (int a = 0; a < 3; ++a) {
            part[a] = std::pow(
                2 * std::sin(order[a] * std::numbers::pi / 2 / shape.cells[a]) / shape.spacing[a],
                2);
            symbol += part[a];
        }
        if (stencil == Stencil::nineteen_points)
            for (int a = 0; a < 3; ++a)
                for (int b = 0; b < a; ++b)
                    symbol -= (std::pow(shape.spacing[a], 2) + std::pow(shape.spacing[b], 2)) / 12 *
                              part[a] * part[b];
        const double angle = 2 * std::asin(air.speed_of_sound * t / 2 * std::sqrt(symbol));
        const auto mode = [&](std::size_t n) {
            const int nx = nodes.count[0], ny = nodes.count[1];
            const int at[3] = {static_cast<int>(n) % nx, static_cast<int>(n) / nx % ny,
                               static_cast<int>(n) / nx / ny};
            double p = 1;
            for (int a = 0; a < 3; ++a)
                p *= std::cos(order[a] * std::numbers::pi * at[a] / shape.cells[a]);
            return p;
        };
        for (std::size_t n = 0; n < nodes.size(); ++n)
            field.set(n, mode(n), mode(n) * std::cos(angle));
        double largest = 0;
        for (std::size_t step = 0; step < 2000; ++step) {
            field.update(step, 0, 1, 0);
            const double* p = field.after(step + 1);
            for (std::size_t n = 0; n < nodes.size(); n += 7)
                largest =
                    std::max(largest, std::abs(p[n] - mode(n) * std::cos(angle * (step + 1.0))));
        }
        CHECK(largest < 1e-10);
    }
}

TEST_CASE("Grid: walls of mass and spring alone keep the energy, any resistance takes it") {
    // The balance of energy in GridField, over long runs just below the longest time step.
    Room room{1.5, 1.9, 1.2, {}, {}};
    const GridShape plain = grid_of_room(room, 0.15);
    std::srand(7);
    const auto random = [](double low, double high) {
        return low * std::pow(high / low, std::rand() / static_cast<double>(RAND_MAX));
    };
    for (int trial = 0; trial < 12; ++trial) {
        const bool lossy = trial % 2;
        GridShape shape = plain;
        for (GridSurface& surface : shape.surfaces) {
            surface.wall.branches.clear();
            for (int b = std::rand() % 3; b >= 0; --b)
                surface.wall.branches.push_back({lossy ? random(1e-2, 1e6) : 0, random(1e-3, 100),
                                                 std::rand() % 3 ? random(1e2, 1e9) : 0});
            if (lossy && std::rand() % 2) surface.wall.branches[0] = {random(1, 1e6), 0, 0};
        }
        const Stencil stencil = trial % 4 < 2 ? Stencil::nineteen_points : Stencil::seven_points;
        const GridNodes nodes = grid_nodes(shape, stencil);
        const double t = 0.9999 * longest_time_step(shape, stencil, Air{});
        GridField<double> field(shape, nodes, Air{}, t);
        for (std::size_t n = 0; n < nodes.size(); ++n) {
            const double p = std::rand() / static_cast<double>(RAND_MAX) - 0.5;
            field.set(n, p, p);  // every wavelength the grid has
        }
        const double start = field.energy(0);
        double last = start, highest_rise = 0;
        for (std::size_t step = 0; step < 20000; ++step) {
            field.update(step, 0, 1, 0);
            if (step % 10) continue;
            const double energy = field.energy(step + 1);
            highest_rise = std::max(highest_rise, energy - last);
            last = energy;
        }
        INFO("trial " << trial << ": " << last / start);
        CHECK(start > 0);
        if (lossy) {
            CHECK(highest_rise < 1e-9 * start);
            CHECK(last < start);
            CHECK(last > -1e-9 * start);
        } else {
            CHECK(std::abs(last / start - 1) < 1e-8);
        }
    }
}

TEST_CASE("Grid: a rigid duct with an impedance end reflects as the formula says") {
    // Plane waves (Kinsler et al., Fundamentals of Acoustics, ch. 10): a piston at x = 0 in a duct
    // closed by r = (z - rho c)/(z + rho c) gives Z(x) = rho c/S (e^{-jkx} + r e^{-jk(2L - x)})/
    // (1 - r e^{-2jkL}). A point on the closed end is that piston once cross modes have died out.
    const Air air;
    Room room{6.0, 0.5, 0.5, {}, {}};
    const Branch end{900, 2.5, 3e5};
    room.walls[right_wall] = {{end}};
    const std::vector<double> frequency{20, 33, 47, 71, 100, 130};
    const std::vector<Point> sources{{0, 0.25, 0.25}}, receivers{{2.33, 0.1, 0.2}, {5.2, 0.4, 0.1}};
    double last = 0;
    for (const double spacing : {0.125, 0.0625}) {
        GridOptions options;
        options.spacing = spacing, options.left_db = 0.001;
        const auto z = grid_transfer(room, air, frequency, sources, receivers, options);
        double largest = 0;
        for (std::size_t f = 0; f < frequency.size(); ++f)
            for (std::size_t r = 0; r < 2; ++r) {
                const double w = 2 * std::numbers::pi * frequency[f], k = w / air.speed_of_sound;
                const Complex wall{end.resistance, w * end.mass - end.stiffness / w};
                const Complex reflection = (wall - air.impedance()) / (wall + air.impedance());
                const double x = receivers[r].x, length = room.width;
                const Complex exact = air.impedance() / 0.25 *
                                      (std::polar(1.0, -k * x) +
                                       reflection * std::polar(1.0, -k * (2 * length - x))) /
                                      (1.0 - reflection * std::polar(1.0, -2 * k * length));
                largest = std::max(largest, std::abs(z.at(f, r, 0) - exact) / std::abs(exact));
            }
        INFO("spacing " << spacing << ": " << largest);
        CHECK(largest < 0.05);
        if (last > 0) CHECK(largest < last / 3);
        last = largest;
    }
}

#ifdef _OPENMP
TEST_CASE("Grid: not a digit depends on the number of threads") {
    const std::vector<double> frequency{20, 43, 60};
    const std::vector<Point> seat{{2.05, 3.5, 1.1}};
    std::vector<Point> floor;  // more than are transformed together, and no whole number of these
    for (int i = 0; i < 150; ++i)
        floor.push_back({0.3 + 0.02 * i, 0.3 + 0.027 * ((7 * i) % 150), 0.2 + 0.01 * (i % 5)});
    const int threads = omp_get_max_threads();
    std::vector<TransferImpedance<double>> z;
    for (const int n : {1, 2, 3, 4}) {
        omp_set_num_threads(n);
        z.push_back(grid_transfer(many_branches(), Air{}, frequency, seat, floor));
    }
    omp_set_num_threads(threads);
    for (const auto& other : z) CHECK(other.value == z.front().value);
}
#endif

TEST_CASE("Grid: reciprocal, and the same for any number of threads") {
    const std::vector<double> frequency{20, 43, 90, 140};
    const std::vector<Point> a{{0.02, 0.4, 0.0}}, b{{2.05, 3.5, 1.1}, {1.0, 5.2, 2.0}};
    const Room room = many_branches();
#ifdef _OPENMP
    const int threads = omp_get_max_threads();
    omp_set_num_threads(1);
#endif
    const auto forth = grid_transfer(room, Air{}, frequency, a, b);
    const auto back = grid_transfer(room, Air{}, frequency, b, a);
#ifdef _OPENMP
    omp_set_num_threads(3);
#endif
    const auto shared = grid_transfer(room, Air{}, frequency, a, b);
#ifdef _OPENMP
    omp_set_num_threads(threads);
#endif
    CHECK(shared.value == forth.value);
    // Both are one run from `a`; to run from the other end, more points there.
    std::vector<Point> many = a;
    for (int i = 0; i < 4; ++i) many.push_back({0.5 + 0.6 * i, 1.0, 0.4});
    const auto other = grid_transfer(room, Air{}, frequency, many, b);
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t r = 0; r < b.size(); ++r) {
            CHECK(std::abs(forth.at(f, r, 0) - back.at(f, 0, r)) <
                  1e-6 * std::abs(forth.at(f, r, 0)));
            CHECK(std::abs(other.at(f, r, 0) - forth.at(f, r, 0)) <
                  5e-3 * std::abs(forth.at(f, r, 0)));
        }
}

TEST_CASE("Grid: a run ends when nothing can change by 0.05 dB, or says that it did not") {
    const auto frequency = logarithmic_grid({15, 150}, 24);
    const std::vector<Point> source{{0.35, 0.4, 0.22}};
    GridReport report, longer;
    const auto z = grid_transfer(resistive(), Air{}, frequency, source, seats, {}, &report);
    GridOptions options;
    options.left_db = 1e-4;
    const auto end = grid_transfer(resistive(), Air{}, frequency, source, seats, options, &longer);
    CHECK(report.settled);
    CHECK(longer.longest > report.longest);
    CHECK(worst(z, end, frequency).level < 0.05);

    Room rigid = resistive();
    for (Wall& wall : rigid.walls) wall.branches.clear();
    options = {};
    options.longest = 0.5, options.spacing = 0.3;
    grid_transfer(rigid, Air{}, frequency, source, seats, options, &report);
    CHECK_FALSE(report.settled);
    CHECK(report.left_db > 0.05);

    const std::vector<Point> outside{{-0.1, 1, 1}};
    CHECK_THROWS_AS(grid_transfer(resistive(), Air{}, frequency, outside, seats), Error);
}

TEST_CASE("Grid: single precision is enough, also where nothing drains the static pressure") {
    // Double precision solves the same equations; rounding is all that differs.
    Room sealed = resistive(), masonry = resistive();
    for (Wall& wall : sealed.walls) wall = {{{1500, 9, 1.8e6}}};
    for (Wall& wall : masonry.walls) wall = wall_from_absorption(0.03, Air{});
    const auto frequency = logarithmic_grid({10, 150}, 24);
    const std::vector<Point> source{{0.35, 0.4, 0.22}};
    for (const Room& room : {sealed, masonry}) {
        GridOptions options;
        GridReport report;
        options.spacing = 0.15;
        const auto single = grid_transfer(room, Air{}, frequency, source, seats, options, &report);
        CHECK(report.settled);
        options.in_double = true;
        const auto full = grid_transfer(room, Air{}, frequency, source, seats, options);
        CHECK(worst(single, full, frequency).level < 0.02);
        CHECK(worst(single, full, frequency).phase < 0.2);
    }
}
