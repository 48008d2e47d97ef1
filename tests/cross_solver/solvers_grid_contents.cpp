// Contents and walls of parts on the grid: against the exact solver, and the scheme's own balance.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "base/frequency_grid.hpp"
#include "cross_solver/differences.hpp"
#include "solvers/constructions.hpp"
#include "solvers/grid.hpp"
#include "solvers/grid_field.hpp"
#include "solvers/modal.hpp"
#include "solvers/room_solver.hpp"

using namespace boxroom;

namespace {

const std::vector<Point> sub{{0.35, 0.4, 0.22}}, seats{{1.5, 2.0, 1.2}, {2.1, 2.4, 1.1}};

/// Masonry with a window, a door and a light wall: each a wall of parts.
Room masonry() {
    const Air air;
    const auto made_of = [&](const char* name) {
        return wall_from_construction(find_construction(name), air);
    };
    Room room{3.0, 3.6, 2.4, {}, {}};
    room.walls.fill(made_of("brick, plastered"));
    const WallPart window[] = {{made_of("brick, plastered"), 0, {}},
                               {made_of("window glass, double"), 2.1, {}},
                               {made_of("window glass, single"), 0.6, {}}},
                   door[] = {{made_of("plasterboard on studs"), 0, {}},
                             {made_of("solid door"), 1.8, {}}};
    room.walls[front_wall] = mean_wall(window, 3.0 * 2.4);
    room.walls[right_wall] = mean_wall(door, 3.6 * 2.4);
    return room;
}

Contents soft(const Room& room) {
    return contents_of(find_named_contents("soft"), room.width * room.length);
}

Space next_door(Point from, Point to) {
    Space s{"next door", from, to, {}};
    for (const char* name : wall_names) s.walls.push_back({name, Wall{{{8000, 0, 0}}}, ""});
    return s;
}

}  // namespace

TEST_CASE("Grid: contents and parts within 0.5 dB and 3 degrees of the modal solver") {
    const auto frequency = logarithmic_grid({10, 200}, 24);
    for (const int kind : {0, 1, 2}) {
        Room room = masonry();
        if (kind > 0) room.contents = kind == 1 ? constant_contents(7) : soft(room);
        GridReport report;
        GridOptions options;
        options.left_db = 0.02;
        const auto z = grid_transfer(room, Air{}, frequency, sub, seats, options, &report);
        const auto exact = modal_transfer(room, Air{}, frequency, sub, seats);
        const Difference d = worst(z, exact, frequency);
        INFO("kind " << kind << ": " << d.level << " dB, " << d.phase << " degrees");
        CHECK(d.level < 0.5);
        CHECK(d.phase < 3);
        CHECK(report.settled);
    }
}

TEST_CASE("Grid: with contents the error falls as the square of the spacing") {
    // Sides that 0.3, 0.2 and 0.15 m all divide.
    const std::vector<double> frequency{22, 35, 48, 60, 75, 90, 125};
    const std::vector<Point> from{{0.43, 0.52, 0.31}}, to{{1.9, 2.3, 1.17}};
    for (const bool constant : {true, false})
        for (const Stencil stencil : {Stencil::seven_points, Stencil::nineteen_points}) {
            Room room = masonry();
            room.walls[ceiling_wall] = {{{2000, 0, 0}}};
            room.contents = constant ? constant_contents(10) : soft(room);
            const auto exact = modal_transfer(room, Air{}, frequency, from, to);
            std::vector<double> error;
            for (const double spacing : {0.3, 0.2, 0.15}) {
                GridOptions options;
                options.stencil = stencil, options.spacing = spacing;
                options.in_double = true, options.left_db = 1e-4;
                error.push_back(
                    mean_error(grid_transfer(room, Air{}, frequency, from, to, options), exact));
            }
            INFO("errors " << error[0] << ' ' << error[1] << ' ' << error[2]);
            CHECK(error[2] < 0.05);
            CHECK(std::log(error[0] / error[2]) / std::log(2.0) > 1.7);
        }
}

TEST_CASE("Grid: contents only ever take energy, next to plain air too, up to the longest step") {
    // The balance in GridField and GridContents, from random noise that holds every wavelength.
    for (int trial = 0; trial < 12; ++trial) {
        Room room{1.5, 1.8, 1.2, {}, {}};
        for (Wall& wall : room.walls) {
            wall.branches = {{0, 9, trial % 3 == 1 ? 0 : 2e6}};  // takes no energy
            if (trial % 3 == 0) wall.branches.push_back({3000, 2, 0});
        }
        room.contents = trial % 2 ? constant_contents(0.5 * (trial + 1)) : soft(room);
        if (trial % 4 > 1) {
            room.plan.spaces = {next_door({1.8, 0, 0}, {2.4, 1.8, 1.2})};
            room.plan.openings = {{"door", {1.5, 0.6, 0}, {1.5, 1.2, 0.9}, 0}};
        }
        const Air air;
        const GridShape shape =
            room.is_rectangle() ? grid_of_room(room, 0.15) : grid_of_plan(room, air, 0.15);
        const Stencil stencil = trial % 5 < 3 ? Stencil::nineteen_points : Stencil::seven_points;
        const GridNodes nodes = grid_nodes(shape, stencil);
        const double t = 0.999999 * longest_time_step(shape, stencil, air);
        GridField<double> field(shape, nodes, air, t);
        std::srand(trial + 1);
        for (std::size_t n = 0; n < nodes.size(); ++n)
            if (nodes.kind_of[n] >= 0) {
                const double p = std::rand() / static_cast<double>(RAND_MAX) - 0.5;
                field.set(n, p, p);
            }
        const double start = field.energy(0);
        double last = start, highest_rise = 0;
        for (std::size_t step = 0; step < 6000; ++step) {
            field.update(step, 0, 1, 0);
            const double energy = field.energy(step + 1);
            highest_rise = std::max(highest_rise, energy - last);
            last = energy;
        }
        INFO("trial " << trial << ": " << last / start);
        CHECK(start > 0);
        CHECK(highest_rise < 1e-11 * start);
        CHECK(last > -1e-11 * start);
        CHECK(last < 0.9 * start);
    }
}

TEST_CASE("Grid: a puff of air into a shut rigid room with contents leaves rho c^2 dV/V") {
    // The pressure zone is not drained: the zero mode has no moving air. GridField's source is
    // g = rho d2V/dt2, so a source of rho dV/T^2 in one step and its opposite a step later leave
    // dV.
    const Air air;
    for (const bool constant : {true, false}) {
        Room room{1.5, 1.8, 1.2, {}, {}};
        room.contents = constant ? constant_contents(4) : soft(room);
        const GridShape shape = grid_of_room(room, 0.15);
        const GridNodes nodes = grid_nodes(shape, Stencil::nineteen_points);
        const double t = 0.99 * longest_time_step(shape, Stencil::nineteen_points, air);
        GridField<double> field(shape, nodes, air, t);
        field.set_source({{nodes.size() / 2, 0.7}, {nodes.size() / 3, 0.3}});
        const double volume = 1e-5, force = air.density * volume / (t * t);
        for (std::size_t step = 0; step < 40000; ++step)
            field.update(step, 0, 1, step == 0 ? force : step == 1 ? -force : 0);
        const double expected =
            air.density * air.speed_of_sound * air.speed_of_sound * volume / room.volume();
        double sum = 0;
        for (std::size_t n = 0; n < nodes.size(); ++n)
            sum += nodes.kinds[nodes.kind_of[n]].volume * field.after(40000)[n];
        CHECK(sum / room.volume() == Approx(expected).epsilon(1e-6));
        // A constant area has taken all that moves by now; the band-pass leaves the treble.
        if (constant) CHECK(field.after(40000)[5] == Approx(expected).epsilon(1e-6));
    }
}

TEST_CASE("Grid: after a burst a mode's envelope falls as its complex frequency says") {
    // Ringing in time against the frequency-domain modes: a tone burst at the mode, then silence;
    // the level of the field's energy over one second gives the decay time.
    const Air air;
    for (const int kind : {0, 1, 2}) {
        Room room{3.0, 4.6, 2.4, {}, {}};
        room.walls.fill(wall_from_absorption(0.03, air));
        if (kind > 0) room.contents = kind == 1 ? constant_contents(1.5) : soft(room);
        for (const std::array<int, 3> order : {std::array{0, 1, 0}, {1, 0, 0}, {1, 2, 0}}) {
            const Mode mode = room_mode(room, air, order);
            const GridShape shape = grid_of_room(room, 0.2);
            const GridNodes nodes = grid_nodes(shape, Stencil::nineteen_points);
            const double t = 0.99 * longest_time_step(shape, Stencil::nineteen_points, air);
            GridField<double> field(shape, nodes, air, t);
            // Start in the rigid room's mode shape: what else is excited dies or stays small.
            const auto shape_at = [&](std::size_t n) {
                const int at[3] = {static_cast<int>(n % nodes.count[0]),
                                   static_cast<int>(n / nodes.count[0] % nodes.count[1]),
                                   static_cast<int>(n / nodes.count[0] / nodes.count[1])};
                double p = 1;
                for (int a = 0; a < 3; ++a)
                    p *= std::cos(order[a] * std::numbers::pi * at[a] / shape.cells[a]);
                return p;
            };
            for (std::size_t n = 0; n < nodes.size(); ++n)
                field.set(n, shape_at(n), shape_at(n) * std::cos(2 * M_PI * mode.frequency * t));
            auto level_after = [&, step = std::size_t{0}](double seconds) mutable {
                for (; step * t < seconds; ++step) field.update(step, 0, 1, 0);
                return 10 * std::log10(field.energy(step));
            };
            const double length = std::min(0.5, mode.decay_time / 3);
            const double early = level_after(0.1 * length), late = level_after(length);
            const double decay = 60 * 0.9 * length / (early - late);
            INFO("kind " << kind << ", mode " << order[0] << order[1] << order[2] << " at "
                         << mode.frequency << " Hz: " << decay << " s, formula "
                         << mode.decay_time);
            CHECK(decay == Approx(mode.decay_time).epsilon(0.03));
        }
    }
}

TEST_CASE("Grid: contents stay in the room and out of the space next door") {
    // Elements of the space are without them; so must the grid be, at the plane of the door.
    Room room = masonry();
    room.walls[ceiling_wall] = {{{9000, 0, 0}}};
    room.plan.spaces = {next_door({3.15, 0, 0}, {4.65, 3.6, 2.4})};
    room.plan.openings = {{"door", {3.0, 0.9, 0}, {3.0, 1.8, 2.1}, 0}};
    const auto frequency = logarithmic_grid({12, 120}, 6);
    std::vector<double> bare, lossy;
    for (const double spacing : {0.15, 0.075}) {
        GridOptions options;
        options.spacing = spacing, options.left_db = 0.01;
        for (const bool with : {false, true}) {
            Room now = room;
            if (with) now.contents = constant_contents(12);
            const auto elements = room_transfer(now, Air{}, frequency, sub, seats, {});
            const auto z = grid_transfer(now, Air{}, frequency, sub, seats, options);
            (with ? lossy : bare).push_back(mean_error(z, elements));
        }
    }
    INFO("bare " << bare[0] << ' ' << bare[1] << ", with contents " << lossy[0] << ' ' << lossy[1]);
    CHECK(lossy[1] < 0.6 * lossy[0]);
    CHECK(lossy[1] < std::max(0.03, bare[1]));
}
