// The closed form of Paris' integral against brute-force quadrature, walls from coefficients,
// names.
#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"
#include "solvers/constructions.hpp"

using namespace boxroom;

namespace {
/// 2 int_0^1 u (1 - |r(u)|^2) du with r = (u - beta)/(u + beta), by Simpson's rule in t, u = t^3:
/// the substitution crowds the points at grazing incidence, where a stiff wall has its peak.
double paris_by_quadrature(std::complex<double> beta) {
    const int n = 200000;
    double sum = 0;
    for (int i = 0; i <= n; ++i) {
        const double t = double(i) / n, u = t * t * t;
        const double loss = 1 - std::norm((u - beta) / (u + beta));
        sum += (i == 0 || i == n ? 1 : i % 2 ? 4 : 2) * 2 * u * loss * 3 * t * t;
    }
    return sum / (3.0 * n);
}
}  // namespace

TEST_CASE("Random-incidence absorption equals the integral it stands for") {
    for (double g : {1e-4, 1e-3, 0.01, 0.1, 0.638, 1.0, 3.0, 30.0})
        for (double b : {0.0, 1e-12, 1e-9, -1e-7, 1e-5, -0.01, 0.03, 0.5, -2.0, 40.0}) {
            INFO("beta = " << g << " + " << b << "j");
            const double expected = paris_by_quadrature({g, b});
            CHECK(random_incidence_absorption({g, b}) ==
                  Approx(expected).epsilon(1e-7).margin(1e-11));
        }
    CHECK(random_incidence_absorption({0, 1}) == 0);
}

TEST_CASE("A coefficient becomes the resistance that absorbs it") {
    const Air air;
    for (double alpha : {0.001, 0.01, 0.05, 0.3, 0.7, 0.9, 0.95}) {
        const Wall wall = wall_from_absorption(alpha, air);
        REQUIRE(wall.branches.size() == 1);
        CHECK(wall.branches[0].resistance > air.impedance());
        CHECK(paris_by_quadrature(wall.admittance(300, air)) == Approx(alpha).epsilon(1e-6));
    }
    for (double alpha : {0.0, -0.1, 0.951, 1.0, std::nan("")})
        CHECK_THROWS_AS(wall_from_absorption(alpha, air), Error);
}

TEST_CASE("Branches add in parallel, at complex frequencies and at rest too") {
    const Air air{340, 1.2};
    const Wall wall{{{1000, 10, 2e6}, {4080, 0, 0}}};
    const std::complex<double> w{300, 20}, j{0, 1};
    const auto expected = 408.0 / (1000.0 + j * w * 10.0 + 2e6 / (j * w)) + 0.1;
    CHECK(std::abs(wall.admittance(w, air) - expected) < 1e-14);
    CHECK(std::abs(wall.admittance(0, air) - 0.1) < 1e-14);  // the spring holds at rest
}

TEST_CASE("A wall of parts has the mean admittance by area") {
    const Air air;
    const Wall brick = wall_from_absorption(0.02, air), glass{{{1500, 9, 1.8e6}}},
               door{{{3000, 12, 0}, {9000, 0, 4e6}}};
    const WallPart parts[] = {{brick, 0, "brick"}, {glass, 2.1, "glass"}, {door, 1.8, "door"}};
    const Wall mean = mean_wall(parts, 10.0);
    for (const std::complex<double> w : {std::complex<double>{200, 0}, {700, 0}, {300, 15}}) {
        const auto expected = (6.1 * brick.admittance(w, air) + 2.1 * glass.admittance(w, air) +
                               1.8 * door.admittance(w, air)) /
                              10.0;
        CHECK(std::abs(mean.admittance(w, air) / expected - 1.0) < 1e-12);
    }
    // The areas may all be given; then they must fill the wall.
    const WallPart all[] = {{brick, 6.1, ""}, {glass, 2.1, ""}, {door, 1.8, ""}};
    CHECK(std::abs(mean_wall(all, 10.0).admittance(500, air) / mean.admittance(500, air) - 1.0) <
          1e-12);
    CHECK_THROWS_AS(mean_wall(all, 10.1), Error);
    CHECK_THROWS_AS(mean_wall(parts, 3.9), Error);  // nothing left for the brick
    const WallPart negative[] = {{brick, 0, ""}, {glass, -1, ""}};
    CHECK_THROWS_AS(mean_wall(negative, 10.0), Error);
    const WallPart two_rests[] = {{brick, 0, ""}, {glass, 0, ""}};
    CHECK_THROWS_AS(mean_wall(two_rests, 10.0), Error);
    CHECK_THROWS_AS(mean_wall({}, 10.0), Error);
}

TEST_CASE("Names are found in any case, and a wrong one is helped") {
    CHECK(find_construction("Brick, Plastered").name == "brick, plastered");
    const auto mend = [](const char* name) {
        try {
            find_construction(name);
        } catch (const Error& error) {
            return error.faults().at(0).mend;
        }
        return std::string();
    };
    CHECK(mend("brick, plasterd").find("\"brick, plastered\"") != std::string::npos);
    CHECK(mend("konkrete").find("\"concrete\"") != std::string::npos);
    CHECK(mend("plasterboard").find("\"plasterboard on studs\"") != std::string::npos);
    CHECK(mend("xyzzy").find("\"window glass\"") != std::string::npos);  // nothing near: the list
}
