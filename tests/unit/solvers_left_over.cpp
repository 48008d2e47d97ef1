// What a basis leaves over, and where to ask next.
#include <catch2/catch.hpp>

#include "solvers/element_solver.hpp"
#include "solvers/left_over.hpp"

using namespace boxroom;

namespace {

Room room_of(double width) {
    Room room{width, 2.0, 1.5, {}, {}};
    for (Wall& wall : room.walls) wall = Wall{{{8000, 0, 0}}};
    return room;
}

}  // namespace

TEST_CASE("Left over: nothing of a field that the basis holds, all of the load beside none") {
    const Room room = room_of(2.4);
    const ElementSolver solver(room, Air{}, {});
    const std::vector<double> frequency{40, 75};
    const std::vector<Point> place{{0.4, 0.5, 0.6}};
    const Eigen::VectorXd load = solver.point_values(place).col(0);
    const Eigen::VectorXd air =
        solver.matrices().times_mass(Eigen::MatrixXd::Ones(solver.unknowns(), 1)).col(0);
    std::vector<OperatorScales> scales;
    Eigen::MatrixXd functions(solver.unknowns(), 2);
    Eigen::MatrixXcd field(2, 2);
    for (const double f : frequency) scales.push_back(operator_scales(room, Air{}, f));
    // The field at 75 Hz in two functions; at 40 Hz a tenth of it, which solves nothing.
    const Eigen::MatrixXcd x =
        solver.factor<double>(75, room).solve(load.cast<std::complex<double>>());
    functions << x.real(), x.imag();
    const std::complex<double> j{0, 1};
    field << 0.1, 1, 0.1 * j, j;
    ReducedBasis basis(solver);
    basis.append(functions);
    const auto left = left_over(solver.matrices(), basis, {frequency, scales, load, field});
    const double size = std::sqrt(x.col(0).cwiseAbs2().cwiseProduct(air).sum());
    const Eigen::VectorXcd rest =
        load.cast<std::complex<double>>() -
        solver.matrices().times(std::span(scales).first(1), Eigen::MatrixXcd(0.1 * x)).col(0);
    CHECK(
        left[0] ==
        Approx(std::sqrt(rest.cwiseAbs2().cwiseQuotient(air).sum()) / (0.1 * size)).epsilon(1e-4));
    CHECK(left[1] < 1e-4 * left[0]);
}

TEST_CASE("Left over: the two worst are not side by side") {
    const std::vector<double> frequency{50, 60, 100, 105, 109, 112};
    using Two = std::vector<double>;
    CHECK(worst_two(frequency, Two{1, 2, 3, 9, 8, 7}) == Two{60, 105});
    CHECK(worst_two(frequency, Two{1, 2, 9, 3, 8, 7}) == Two{100, 112});
    CHECK(worst_two(frequency, Two{9, 1, 1, 1, 1, 2}) == Two{50, 112});
}
