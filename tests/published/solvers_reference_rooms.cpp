// Exact transfer impedances of three rooms. The numbers come from a separate program that solves
// the same equations (one-dimensional Green's function along one axis, complex eigenvalues along
// the other two; two choices of axis agreed to 1e-7 dB). A dozen values are kept here.
#include <catch2/catch.hpp>
#include <cmath>

#include "solvers/modal.hpp"

using namespace boxroom;

namespace {
void check(const Room& room, Point source, Point receiver, const std::vector<double>& frequency,
           const std::vector<std::complex<double>>& expected) {
    const std::vector<Point> sources{source}, receivers{receiver};
    const auto z = modal_transfer(room, Air{}, frequency, sources, receivers);
    const auto many = modal_transfer_many(room, Air{}, frequency, sources, receivers);
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        const auto ratio = z.at(f, 0, 0) / expected[f];
        INFO(frequency[f] << " Hz: " << z.at(f, 0, 0));
        CHECK(std::abs(20 * std::log10(std::abs(ratio))) < 1e-5);
        CHECK(std::abs(std::arg(ratio)) * 180 / M_PI < 1e-4);
        const auto rough = std::complex<double>(many.at(f, 0, 0)) / expected[f];
        CHECK(std::abs(20 * std::log10(std::abs(rough))) < 0.01);
        CHECK(std::abs(std::arg(rough)) * 180 / M_PI < 0.1);
    }
}
}  // namespace

TEST_CASE("Modal solver: a nearly cubic, strongly damped room") {
    Room room{3.0, 3.1, 2.9, {}, {}};
    room.walls = {Wall{{{2000.0, 0.0, 0.0}}}, Wall{{{3000.0, 0.0, 0.0}}},
                  Wall{{{2500.0, 0.0, 0.0}}}, Wall{{{1800.0, 0.0, 0.0}}},
                  Wall{{{8000.0, 0.0, 0.0}}}, Wall{{{1500.0, 0.0, 0.0}}}};
    check(room, {0.3, 0.3, 0.3}, {1.5, 2.0, 1.2}, {12.0, 31.5, 50.0, 80.0, 125.0, 200.0},
          {{32.59673750661179, -20.952160416833458},
           {13.13169939327425, -28.761728469905325},
           {-4.025736188560512, -33.34856769333012},
           {-23.187656597571557, -22.3998821137634},
           {-67.34831760921809, 144.07455236177984},
           {-99.21540403073233, -90.65345707670184}});
}

TEST_CASE("Modal solver: stud walls that are masses on springs") {
    Room room{3.6, 6.3, 2.7, {}, {}};
    room.walls = {Wall{{{1500.0, 9.0, 1841905.0517489004}}},
                  Wall{{{41000.0, 0.0, 0.0}}},
                  Wall{{{2200.0, 11.0, 1834759.4581625115}}},
                  Wall{{{41000.0, 0.0, 0.0}}},
                  Wall{{{41000.0, 0.0, 0.0}}},
                  Wall{{{1800.0, 9.0, 2273956.854010988}}}};
    check(room, {3.3, 0.3, 0.25}, {1.8, 4.2, 1.1}, {12.0, 31.5, 50.0, 80.0, 125.0, 200.0},
          {{0.9695657085194463, -37.007022002389064},
           {-3.4067093163909226, 20.858917605763892},
           {-38.71362893093316, -37.09841700669352},
           {24.272532060432155, 69.73926220732157},
           {-63.32360690735025, -243.0781551889195},
           {-62.0658149249493, -57.14490590973692}});
}

TEST_CASE("Modal solver: six different resistive walls") {
    Room room{4.1, 5.2, 2.45, {}, {}};
    room.walls = {Wall{{{9000.0, 0.0, 0.0}}},  Wall{{{14000.0, 0.0, 0.0}}},
                  Wall{{{7000.0, 0.0, 0.0}}},  Wall{{{20000.0, 0.0, 0.0}}},
                  Wall{{{30000.0, 0.0, 0.0}}}, Wall{{{11000.0, 0.0, 0.0}}}};
    check(room, {0.35, 0.4, 0.22}, {2.05, 3.5, 1.1}, {12.0, 31.5, 50.0, 80.0, 125.0, 200.0},
          {{7.883264341372624, -39.982647881730706},
           {-68.4895892831734, -69.48966668490247},
           {-0.6817039173423209, -0.2800129780198205},
           {-46.743334545912816, -5.334624173617196},
           {-7.601993323636116, -153.15028779680932},
           {100.37715363711068, -166.18037485654932}});
}
