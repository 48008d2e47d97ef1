// Rooms by elements: polynomials, the factor, reciprocity, energy, what cannot be solved.
#include <Eigen/SparseLU>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "base/error.hpp"
#include "l_shaped_room.hpp"
#include "solvers/element_solver.hpp"
#include "solvers/lobatto.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}};

/// An L with a table in it and a door into the open air.
Room odd_room() {
    Room room = l_shaped_room(plaster, studs, plaster);
    room.plan.blocks = {{"table", {1.0, 1.2, 0}, {2.2, 1.9, 0.8}, {"", studs, ""}}};
    room.plan.openings = {{"door", {0, 2.6, 0}, {0, 3.5, 2.0}, -1}};
    room.contents = constant_contents(3);
    return room;
}

/// A room with one or two doors or hatches into a hall, a door to the open and a block, near to
/// each other and to corners, often a layer's width apart.
Room drawn_room(std::mt19937& random) {
    const auto any = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    const auto near = [&](double most) {
        return any(0, 1) < 0.5 ? any(0, most) : 0.03 * std::floor(any(0, 5));
    };
    Room room{any(2.5, 6), any(2.5, 6), any(2.2, 3), {}, {}};
    room.walls.fill(plaster);
    const double thick = any(0, 1) < 0.7 ? any(0.05, 0.3) : 0;
    Space hall{"hall", {-thick - 2, -0.6, 0}, {-thick, room.length + 0.4, room.height}, {}};
    for (int w = 0; w < 6; ++w) hall.walls.push_back({"", studs, ""});
    room.plan.spaces = {hall};
    double from = near(0.5);
    for (int n = 0; n < 2 && from + 0.7 < room.length; ++n) {
        const double to = from + any(0.3, 0.7), sill = any(0, 1) < 0.5 ? 0 : any(0.2, 1);
        room.plan.openings.push_back({"", {0, from, sill}, {0, to, sill + any(0.4, 1.1)}, 0});
        from = to + 0.03 + near(0.5);
    }
    const double left = near(0.5);
    room.plan.openings.push_back({"", {left, 0, 0}, {left + any(0.5, 1.5), 0, any(1, 2)}, -1});
    const Point corner{0.03 + near(0.4), room.length - 0.9, 0};
    room.plan.blocks = {
        {"", corner, {corner.x + any(0.3, 1), room.length - 0.3, any(0.3, 2)}, {"", studs, ""}}};
    return room;
}

double cuboid(const Point& a, const Point& b) {
    return (b.x - a.x) * (b.y - a.y) * (b.z - a.z);
}

}  // namespace

TEST_CASE("Lobatto: points and mass of degree 4 are those of the tables") {
    // Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.6: +-1, +-sqrt(3/7), 0.
    const auto& x = lobatto::nodes(4);
    CHECK(x(0) == -1);
    CHECK(x(1) == Approx(-std::sqrt(3.0 / 7)).margin(1e-14));
    CHECK(x(2) == Approx(0).margin(1e-14));
    // Table 25.4: the points of Gauss for n = 2 are +-1/sqrt(3), with weights 1.
    const auto two = lobatto::gauss(2);
    CHECK(two.at(1) == Approx(1 / std::sqrt(3.0)));
    CHECK(two.weight(1) == Approx(1));
    for (int degree = 1; degree <= 8; ++degree) {
        // int 1 = 2 and int x'^2 = 2, with x = sum x_n l_n.
        const Eigen::VectorXd one = Eigen::VectorXd::Ones(degree + 1), &at = lobatto::nodes(degree);
        CHECK(one.dot(lobatto::mass(degree) * one) == Approx(2));
        CHECK(at.dot(lobatto::mass(degree) * at) == Approx(2.0 / 3));
        CHECK(at.dot(lobatto::stiffness(degree) * at) == Approx(2));
    }
}

TEST_CASE("Elements: volume and area come out of the matrices") {
    const Room room = odd_room();
    const ElementSolver solver(room, Air{}, {});
    const ElementMatrices& m = solver.matrices();
    const FunctionBlocks one(Eigen::MatrixXd::Ones(1, solver.unknowns()));
    const auto part = m.between(one, one);
    CHECK(part[2](0, 0) == Approx(room.volume()));
    CHECK(std::abs(part[0](0, 0)) < 1e-9);
    CHECK(m.times_mass(Eigen::MatrixXd::Ones(solver.unknowns(), 1)).sum() == Approx(room.volume()));
    double area = 0;
    for (std::size_t s = 3; s < part.size(); ++s) area += part[s](0, 0);
    // Floor and ceiling, walls, and what the table adds: its four sides.
    const double floor = 4.8 * 2.4 + 3.0 * 1.8;
    CHECK(area == Approx(2 * floor + 2 * (4.8 + 4.2) * 2.4 + 2 * (1.2 + 0.7) * 0.8));
    // The eighth surface is the table: top and sides; the ninth the door.
    CHECK(part[3 + 8](0, 0) == Approx(1.2 * 0.7 + 2 * 1.9 * 0.8));
    CHECK(part[3 + 9](0, 0) == Approx(0.9 * 2.0));
}

TEST_CASE("Elements: layers beside the edges of doors leave every wall where it is") {
    // Two doors near one corner, one 3 cm from a block: as far as a layer is wide.
    Room room{4.0, 5.0, 2.5, {}, {}};
    room.walls.fill(plaster);
    Space hall{"hall", {-2.1, 0.5, 0}, {-0.1, 4.5, 2.5}, {}};
    for (int w = 0; w < 6; ++w) hall.walls.push_back({"", studs, ""});
    room.plan.spaces = {hall};
    room.plan.blocks = {{"shelf", {0.0, 1.63, 0}, {0.3, 2.4, 2.5}, {"", studs, ""}}};
    room.plan.openings = {{"door", {0, 0.7, 0}, {0, 1.6, 2.0}, 0},
                          {"terrace", {0.4, 0, 0}, {1.9, 0, 2.1}, -1}};
    const ElementSolver solver(room, Air{}, {});
    const ElementMatrices& m = solver.matrices();
    const FunctionBlocks one(Eigen::MatrixXd::Ones(1, solver.unknowns()));
    const auto part = m.between(one, one);
    const double passage = 0.1 * 0.9 * 2.0, shelf = 0.3 * 0.77 * 2.5;
    CHECK(part[2](0, 0) == Approx(4.0 * 5.0 * 2.5 - shelf + 2.0 * 4.0 * 2.5 + passage));
    const auto area = [&](int surface) { return part[3 + surface](0, 0); };
    CHECK(area(left_wall) == Approx((5.0 - 0.77) * 2.5 - 0.9 * 2.0));
    CHECK(area(front_wall) == Approx(4.0 * 2.5 - 1.5 * 2.1));
    CHECK(area(floor_wall) == Approx(4.0 * 5.0 - 0.3 * 0.77));
    CHECK(area(6) == Approx((2 * 0.3 + 0.77) * 2.5));
    CHECK(area(7 + right_wall) == Approx(4.0 * 2.5 - 0.9 * 2.0));  // of the hall
    CHECK(area(7 + floor_wall) == Approx(2.0 * 4.0));
    CHECK(area(13 + 1) == Approx(1.5 * 2.1));
    // The layers end beside the edges, of which every line through the room would know.
    MeshOptions bare;
    bare.edge_layer = 0;
    CHECK(solver.unknowns() < 1.8 * ElementSolver(room, Air{}, bare).unknowns());
}

TEST_CASE(
    "Elements: doors and blocks wherever they are leave the volume, and air that takes power") {
    std::mt19937 random(1);
    for (int n = 0; n < 60; ++n) {
        const Room room = drawn_room(random);
        const Space& hall = room.plan.spaces[0];
        double volume = room.width * room.length * room.height + cuboid(hall.from, hall.to);
        for (const Block& b : room.plan.blocks) volume -= cuboid(b.from, b.to);
        for (const Opening& o : room.plan.openings)
            if (o.space == 0) volume += cuboid({hall.to.x, o.from.y, o.from.z}, o.to);
        const ElementSolver solver(room, Air{}, {});
        INFO(n);
        CHECK(solver.matrices().times_mass(Eigen::MatrixXd::Ones(solver.unknowns(), 1)).sum() ==
              Approx(volume));
        if (n % 5 != 0) continue;
        const std::vector<Point> place{{0.6 * room.width, 0.5 * room.length, 2.1}};
        const auto z = solver.transfer(std::vector<double>{31, 87}, place, place);
        for (const auto& at : z.value) CHECK(at.real() > 0);
    }
}

TEST_CASE("Nested factor: solves what a general sparse factor solves") {
    const Room room = odd_room();
    MeshOptions options;
    options.longest = 2.4;
    const ElementSolver solver(room, Air{}, options);
    const OperatorScales scales = operator_scales(room, Air{}, 63);
    std::vector<Eigen::Triplet<std::complex<double>>> entries;
    const auto& elements = solver.matrices().mesh().element;
    for (std::size_t e = 0; e < elements.size(); ++e) {
        const auto a = solver.matrices().element_operator(static_cast<int>(e), scales);
        for (int r = 0; r < a.rows(); ++r)
            for (int c = 0; c < a.cols(); ++c)
                entries.emplace_back(elements[e].unknown[r], elements[e].unknown[c], a(r, c));
    }
    Eigen::SparseMatrix<std::complex<double>> a(solver.unknowns(), solver.unknowns());
    a.setFromTriplets(entries.begin(), entries.end());
    const Eigen::SparseLU<Eigen::SparseMatrix<std::complex<double>>> general(a);
    const Eigen::MatrixXcd load =
        solver.point_values(std::vector<Point>{{0.5, 0.6, 0.2}, {4.0, 1.0, 1.1}})
            .cast<std::complex<double>>();
    const Eigen::MatrixXcd ours = solver.factor<double>(63, room).solve(load),
                           other = general.solve(load);
    CHECK((ours - other).norm() < 1e-9 * other.norm());
    CHECK((a * ours - load).norm() < 1e-9 * load.norm());
    // Each column with the operator of its own frequency.
    const std::vector<OperatorScales> of_each{operator_scales(room, Air{}, 20), scales};
    CHECK((solver.matrices().times(of_each, ours).col(1) - load.col(1)).norm() <
          1e-9 * load.norm());
    CHECK((solver.matrices().times(of_each, ours).col(0) - load.col(0)).norm() > 0.1 * load.norm());
    CHECK((solver.factor<float>(63, room).solve(load) - other).norm() < 1e-4 * other.norm());
}

TEST_CASE("Elements: sound goes there as it comes back, and a source gives off power") {
    const ElementSolver solver(odd_room(), Air{}, {});
    const std::vector<Point> points{{0.5, 0.6, 0.2}, {4.0, 1.0, 1.1}, {1.4, 3.2, 2.4}};
    const std::vector<double> frequency{20, 46, 71, 113};
    const auto z = solver.transfer(frequency, points, points);
    for (std::size_t f = 0; f < frequency.size(); ++f)
        for (std::size_t a = 0; a < points.size(); ++a) {
            // All walls are passive: the matrix of resistances is positive definite.
            CHECK(z.at(f, a, a).real() > 0);
            for (std::size_t b = 0; b < points.size(); ++b)
                CHECK(std::abs(z.at(f, a, b) - z.at(f, b, a)) < 1e-8 * std::abs(z.at(f, a, b)));
        }
}

TEST_CASE("Elements: in the sliver behind a block that a rounding keeps off its wall one hears") {
    Room room{4.36187, 4.84, 2.5, {}, {}};
    room.walls.fill(studs);
    room.plan.blocks = {{"cupboard", {3.53, 2.15, 0}, {4.3618, 3.26309, 1.7}, {"", studs, ""}}};
    const Point sliver{4.36187, 3.2623, 1.1}, beside{4.36187, 3.2640, 1.1}, sub{0.3, 0.4, 0.2};
    REQUIRE(in_air(room, sliver));
    const ElementSolver solver(room, Air{}, {});
    const std::vector<Point> heard{sliver, beside};
    const auto z = solver.transfer(std::vector<double>{40}, {&sub, 1}, heard);
    CHECK(std::abs(z.at(0, 0, 0) / z.at(0, 1, 0) - 1.0) < 0.02);
}

TEST_CASE("Elements: what cannot be solved is said") {
    Room full = odd_room();
    full.plan.blocks[0] = {"brick", {0, 0, 0}, {4.8, 4.2, 2.4}, {"", studs, ""}};
    CHECK_THROWS_AS(ElementSolver(full, Air{}, {}), Error);

    Room nowhere = odd_room();
    nowhere.plan.spaces.push_back({"hall", {-4, 2, 0}, {-2, 4, 2.4}, std::vector<NamedWall>(6)});
    nowhere.plan.openings[0].space = 0;
    CHECK_THROWS_AS(ElementSolver(nowhere, Air{}, {}), Error);

    Room stairs{5, 5, 2.4, {}, {}};  // 10,000 corners, as walls along the axes and as slanted ones
    for (const double lean : {0.0, 4e-4}) {
        stairs.plan.outline = {{0, 0, 0}};
        for (int n = 0; n < 5000; ++n) {
            stairs.plan.outline.push_back({5 - 1e-3 * n, 1e-3 * n, 0});
            stairs.plan.outline.push_back({5 - 1e-3 * n, 1e-3 * (n + 1) - lean, 0});
        }
        stairs.plan.edges.assign(stairs.plan.outline.size(), {"", studs, ""});
        CHECK_THROWS_AS(ElementSolver(stairs, Air{}, {}), Error);
    }

    const ElementSolver solver(odd_room(), Air{}, {});
    CHECK_THROWS_AS(solver.point_values(std::vector<Point>{{1.5, 1.5, 0.4}}), Error);
    CHECK_THROWS_AS(solver.point_values(std::vector<Point>{{4, 4, 0.4}}), Error);
}
