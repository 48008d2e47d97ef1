// Rooms whose surfaces differ along a line, against solving each anew by the same reduced model.
#include "solvers/surface_line.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "l_shaped_room.hpp"
#include "solvers/heard_room.hpp"
#include "solvers/reduced_room.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}}, brick{{{3e5, 0, 0}}};
const std::vector<double> frequency{24, 31, 47, 66, 90, 111};
const std::vector<Point> places{{1.3, 3.6, 1.1}, {2.1, 1.6, 1.2}, {0.3, 0.4, 0.2}};

const ReducedRoom& learnt() {
    static const ReducedRoom room = [] {
        ReducedRoom one(l_shaped_room(brick, studs, plaster), Air{}, 114);
        one.learn(std::span(places).first(2));
        return one;
    }();
    return room;
}

Room with_edge(int edge, const Wall& wall) {
    Room room = learnt().room();
    room.plan.edges.at(edge).wall = wall;
    return room;
}

/// Transfers between the places, the largest difference as a share of the largest of them.
double apart(const std::vector<Eigen::MatrixXcd>& fields, const Room& room) {
    const Eigen::MatrixXd load = learnt().seen(places);
    double worst = 0;
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        const auto scales = operator_scales(room, Air{}, frequency[f]);
        const Eigen::MatrixXcd exact =
            load.transpose() * learnt().model().solve({&scales, 1}, load).front();
        const Eigen::MatrixXcd found = load.transpose() * fields[f];
        worst =
            std::max(worst, (found - exact).cwiseAbs().maxCoeff() / exact.cwiseAbs().maxCoeff());
    }
    return worst;
}

SurfaceLine line_towards(const Room& room, int depth = 0) {
    return {learnt().model(), learnt().room(),       room, Air{},
            frequency,        learnt().seen(places), depth};
}

}  // namespace

TEST_CASE("Surface line: one edge of any material") {
    const SurfaceLine line = line_towards(with_edge(2, plaster));
    for (const Wall& wall : {brick, plaster, studs, Wall{{{900, 4, 2e5}}}, Wall{}}) {
        const auto fields = line.fields(with_edge(2, wall));
        REQUIRE(fields);
        CHECK(apart(*fields, with_edge(2, wall)) < 1e-5);  // 0.0001 dB
    }
    // Another edge, or two, are elsewhere; so are other contents, and other air next door is none.
    CHECK_FALSE(line.fields(with_edge(3, plaster)));
    Room both = with_edge(2, studs);
    both.plan.edges[3].wall = plaster;
    CHECK_FALSE(line.fields(both));
    Room furnished = learnt().room();
    furnished.contents.area += 4, furnished.contents.q = 3, furnished.contents.frequency = 140;
    CHECK_FALSE(line.fields(furnished));
}

TEST_CASE("Surface line: all surfaces softer alike") {
    const auto softer = [](double factor) {
        Room room = learnt().room();
        for (NamedWall& edge : room.plan.edges) edge.wall = softened(edge.wall, factor);
        for (Wall& wall : room.walls) wall = softened(wall, factor);
        return room;
    };
    const SurfaceLine line = line_towards(softer(1.2));
    for (const double factor : {0.4, 0.9, 1.7, 2.5}) {
        const auto fields = line.fields(softer(factor));
        REQUIRE(fields);
        CHECK(apart(*fields, softer(factor)) < 1e-4);
    }
}

TEST_CASE("Surface line: the error falls with twice as many powers as the space has blocks") {
    // The published property (see the class): as many moments match. What stands beside the
    // edge's brick is an admittance that grows with the share.
    const auto beside = [](double share) {
        return with_edge(2, {{brick.branches[0], {1400 / share, 0, 0}}});
    };
    const auto error = [&](const SurfaceLine& line, double share) {
        return apart(line.fields(beside(share)).value(), beside(share));
    };
    for (const int depth : {1, 2, 3}) {
        const SurfaceLine line = line_towards(beside(1), depth);
        const double order = std::log2(error(line, 0.4) / error(line, 0.2));
        INFO("depth " << depth);
        CHECK(order > 2 * depth - 0.6);
        CHECK(order < 2 * depth + 0.9);
    }
}

TEST_CASE("Heard room: as another room, one surface after another and on the way") {
    HeardRoom heard(learnt(), frequency);
    const std::vector<Point> seats(places.begin(), places.begin() + 2),
        subs(places.begin() + 2, places.end());
    const auto check = [&](const Room& room, const std::vector<Point>& sources) {
        heard.be(room);
        const auto z = heard.transfer(sources, seats);
        for (std::size_t f = 0; f < frequency.size(); ++f) {
            const auto scales = operator_scales(room, Air{}, frequency[f]);
            const auto field = learnt().model().solve({&scales, 1}, learnt().seen(sources)).front();
            const Eigen::MatrixXcd exact = learnt().seen(seats).transpose() * field;
            const std::complex<double> load{0, 2 * M_PI * frequency[f] * Air{}.density};
            for (std::size_t s = 0; s < seats.size(); ++s)
                CHECK(std::abs(z.at(f, s, 0) / load - exact(static_cast<int>(s), 0)) <
                      1e-5 * exact.cwiseAbs().maxCoeff());
        }
    };
    check(with_edge(2, plaster), subs);
    check(with_edge(2, studs), subs);               // on the way
    check(with_edge(2, studs), {{0.9, 0.5, 0.2}});  // a sub that was moved
    Room both = with_edge(2, studs);
    both.walls[floor_wall] = plaster;
    check(both, {{0.9, 0.5, 0.2}});  // another way
    both.walls[floor_wall] = brick;
    check(both, subs);
    check(learnt().room(), subs);  // and back
}
