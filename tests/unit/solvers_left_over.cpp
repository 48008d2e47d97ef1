// What a basis leaves over, and where to ask next.
#include <catch2/catch.hpp>
#include <numeric>

#include "solvers/element_solver.hpp"
#include "solvers/left_over.hpp"
#include "solvers/reduced_basis.hpp"

using namespace boxroom;

namespace {

Room room_of(double width) {
    Room room{width, 2.0, 1.5, {}, {}};
    for (Wall& wall : room.walls) wall = Wall{{{8000, 0, 0}}};
    return room;
}

}  // namespace

TEST_CASE("Left over: nothing of a field that the basis holds, and what it is where it lacks it") {
    const Room room = room_of(2.4);
    const ElementSolver solver(room, Air{}, {});
    const ElementMatrices& m = solver.matrices();
    const std::vector<Point> place{{0.4, 0.5, 0.6}};
    const Eigen::VectorXd load = solver.point_values(place).col(0);
    ReducedBasis basis(solver);
    LeftOver left_over(m, basis.weight());
    ReducedModel model;
    // As they are learnt: some functions, then more.
    for (const double known : {50.0, 110.0}) {
        const RoomAt at{&room, known};
        basis.add(full_solutions(solver, basis.weight(), {&at, 1}, place, 0));
        model = basis.project(m, model);
        left_over.follow(m, basis.functions());
    }
    std::vector<int> all(solver.unknowns());
    std::iota(all.begin(), all.end(), 0);
    const Eigen::MatrixXd functions = basis.functions().at(all).transpose();
    const auto told = [&](double f) {
        const OperatorScales scales = operator_scales(room, Air{}, f);
        const Eigen::VectorXcd y =
            model.solve({&scales, 1}, functions.transpose() * load).front().col(0);
        return std::pair{left_over.share(scales, left_over.sums(load), y), y};
    };
    const auto plain = [&](double f, const Eigen::VectorXcd& y) {
        const Eigen::VectorXcd x = functions * y;
        const std::vector<OperatorScales> scales{operator_scales(room, Air{}, f)};
        const Eigen::VectorXcd rest = load.cast<std::complex<double>>() - m.times(scales, x).col(0);
        return std::sqrt(rest.cwiseAbs2().cwiseQuotient(basis.weight()).sum() /
                         x.cwiseAbs2().cwiseProduct(basis.weight()).sum());
    };
    // 24 sums tell a size within 1/sqrt(48) on average.
    double logarithms = 0;
    for (const double f : {20.0, 35.0, 75.0, 90.0, 140.0}) {
        const auto [share, y] = told(f);
        const double truth = plain(f, y);
        CHECK(share == Approx(truth).epsilon(0.45));
        logarithms += std::log(share / truth) / 5;
    }
    CHECK(std::abs(logarithms) < 0.15);
    for (const double f : {50.0, 110.0}) CHECK(told(f).first < 1e-3 * told(80).first);
}

TEST_CASE("Left over: the two worst are not side by side") {
    const std::vector<double> frequency{50, 60, 100, 105, 109, 112};
    using Two = std::vector<double>;
    CHECK(worst_two(frequency, Two{1, 2, 3, 9, 8, 7}) == Two{60, 105});
    CHECK(worst_two(frequency, Two{1, 2, 9, 3, 8, 7}) == Two{100, 112});
    CHECK(worst_two(frequency, Two{9, 1, 1, 1, 1, 2}) == Two{50, 112});
}
