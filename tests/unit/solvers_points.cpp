// The rules that every solver holds its points to, and rooms at the edge of what it can sum.
#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"
#include "base/parallel.hpp"
#include "solvers/modal.hpp"
#include "solvers/prepared_room.hpp"
#include "solvers/room_solver.hpp"

using namespace boxroom;

namespace {

Room room_of(double width, double length, double height) {
    Room room{width, length, height, {}, {}};
    for (Wall& wall : room.walls) wall.branches = {{9000, 0, 0}};
    return room;
}

std::string refusal(const Room& room, RoomSolver solver, const Point& source, const Point& seat) {
    SolverSettings settings;
    settings.solver = solver;
    settings.grid.spacing = 0.3;
    const std::vector<double> frequency{40, 60};
    try {
        room_transfer(room, Air{}, frequency, {&source, 1}, {&seat, 1}, settings);
        room_transfer_many(room, Air{}, frequency, {&source, 1}, {&seat, 1}, settings);
    } catch (const Error& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("A seat on the source, or outside, is refused alike by both solvers") {
    const Room room = room_of(4.1, 5.2, 2.45);
    const Point sub{1, 1, 0.3};
    for (const RoomSolver solver : {RoomSolver::modal, RoomSolver::grid}) {
        INFO("grid " << (solver == RoomSolver::grid));
        CHECK(refusal(room, solver, sub, {1.01, 1, 0.31}).find("within 2 cm") != std::string::npos);
        CHECK(refusal(room, solver, sub, {1.03, 1, 0.3}).empty());
        CHECK(refusal(room, solver, sub, {1, 1, 2.46}).find("a receiver lies outside") !=
              std::string::npos);
        CHECK(refusal(room, solver, {-0.1, 1, 1}, sub).find("a source lies outside") !=
              std::string::npos);
    }
    CHECK(refusal(room, RoomSolver::modal, sub, sub) == refusal(room, RoomSolver::grid, sub, sub));
}

TEST_CASE("Many sources at once in a hall so tall that the factors of its sum would overflow") {
    // e^(12/0.35 m x 40 m) is beyond a double; there each term is worked out as a whole.
    const Room room = room_of(5, 6, 40);
    const std::vector<double> frequency{12, 47, 110};
    const std::vector<Point> from{{1.0, 2.0, 20}, {1.1, 2.1, 20}}, to{{1.2, 2.2, 20.35}};
    const auto exact = modal_transfer(room, Air{}, frequency, from, to);
    const auto many = modal_transfer_many(room, Air{}, frequency, from, to);
    for (std::size_t i = 0; i < exact.value.size(); ++i)
        CHECK(std::abs(std::complex<double>(many.value[i]) / exact.value[i] - 1.0) < 1e-3);
}

TEST_CASE("The first exception of many threads comes out again, after all are over") {
    std::vector<int> done(50, 0);
    const auto run = [&] {
        for_each_in_parallel(done.size(), 1, [&](std::size_t i) {
            done[i] = 1;
            if (i % 10 == 3) throw NumericalFailure("number " + std::to_string(i));
        });
    };
    CHECK_THROWS_AS(run(), NumericalFailure);
    CHECK(std::count(done.begin(), done.end(), 1) == 50);
    // It is no Error: the program must not blame the file.
    CHECK_FALSE(std::is_base_of_v<Error, NumericalFailure>);
}

TEST_CASE("The area of an outline has the sign of the way round") {
    std::vector<Point> outline{{0, 0, 0}, {4, 0, 0}, {4, 3, 0}, {1, 3, 0}};
    CHECK(signed_area(outline) == Approx(10.5));
    std::reverse(outline.begin(), outline.end());
    CHECK(signed_area(outline) == Approx(-10.5));
    CHECK(outline_area(outline) == Approx(10.5));
}
