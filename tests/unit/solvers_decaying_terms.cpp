#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "base/frequency_grid.hpp"
#include "solvers/decaying_terms.hpp"
#include "solvers/floor_layout.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;
using Complex = std::complex<double>;

namespace {

const Air air;
const std::vector<Point> ears{{2, 3.5, 1.1}, {1, 3, 1.2}};
const std::vector<double> octaves = logarithmic_grid({10, 200}, 24);

std::vector<Point> strewn() {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> share(0.05, 0.95);
    std::vector<Point> points;
    for (int n = 0; n < 20; ++n) points.push_back({4.1 * share(random), 5.2 * share(random), 0.2});
    return points;
}

Room room_of(const Wall& all, const Wall& right, const Wall& floor) {
    Room room{4.1, 5.2, 2.45, {}, {}};
    for (Wall& wall : room.walls) wall = all;
    room.walls[1] = right, room.walls[4] = floor;
    return room;
}

/// The largest difference from sums of every term, over the mean at that frequency: each frequency
/// by itself has no polynomial.
double off(const Room& room, std::span<const double> frequency) {
    const std::vector<Point> sources = strewn();
    const auto many = modal_transfer_many(room, air, frequency, sources, ears);
    double worst = 0;
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        const auto every =
            modal_transfer_many(room, air, frequency.subspan(f, 1), sources, ears).value;
        double mean = 0, most = 0;
        for (std::size_t i = 0; i < every.size(); ++i) {
            const std::complex<float> here = many.value[f * every.size() + i];
            mean += std::norm(every[i]) / static_cast<double>(every.size());
            most = std::max<double>(most, std::norm(here - every[i]));
        }
        worst = std::max(worst, std::sqrt(most / mean));
    }
    return worst;
}

std::size_t nodes(const Room& room, std::span<const double> frequency) {
    const std::vector<Point> sources = strewn();
    const FloorLayout layout = lay_out_floor(sources, ears);
    return DecayingTerms({room, air, layout, ears, 12}, frequency).nodes();
}

const Wall masonry{{{20000, 0, 0}}};
const Wall studs{{{5300, 7.8, 1.594e6}}};  // resonance at 72 Hz with a Q of 0.7
const Wall sharp{{{300, 7.8, 1.594e6}}};   // with a Q of 12
const Wall panel{{{261, 1.395, 50753}}};   // 30 Hz, and softer than air above it
const Wall heavier{{{245, 1.446, 112142}}};
constexpr double single_precision = 5e-6;

}  // namespace

TEST_CASE("A polynomial through Chebyshev's nodes is the polynomial, and near what is smooth") {
    const ChebyshevNodes nodes(20, 90, 10);
    const auto through_nodes = [&](auto function, double x) {
        const auto weight = nodes.weights(x);
        double sum = 0;
        for (std::size_t n = 0; n < nodes.size(); ++n) sum += weight[n] * function(nodes.at(n));
        return sum;
    };
    const auto ninth = [](double x) { return std::pow(x / 50 - 1, 9) - x; };
    // A pole at 1.5 x 90 Hz: rho of the ellipse through it is 4.5.
    const auto pole = [](double x) { return 1 / (135 - x); };
    double worst = 0;
    for (double x = 20; x <= 90; x += 0.7) {
        CHECK(through_nodes(ninth, x) == Approx(ninth(x)).epsilon(1e-12));
        worst = std::max(worst, std::abs(through_nodes(pole, x) / pole(x) - 1));
    }
    CHECK(worst < 4 * std::pow(4.5, -10));
    CHECK(worst > 0.1 * std::pow(4.5, -10));
    CHECK(through_nodes(ninth, nodes.at(3)) == ninth(nodes.at(3)));
}

TEST_CASE("What decays may be taken from few frequencies, whatever the walls do") {
    const auto band = std::span(octaves).last(52);  // a bit over two octaves
    SECTION("masonry: as few nodes as there may be") {
        const Room room = room_of(masonry, masonry, masonry);
        CHECK(nodes(room, band) == 10);
        CHECK(off(room, octaves) < single_precision);
    }
    SECTION("walls that resonate broadly take more") {
        const auto fine = logarithmic_grid({45, 200}, 64);
        const Room room = room_of(masonry, studs, studs);
        CHECK(nodes(room, fine) > 10);
        CHECK(nodes(room, fine) < 35);
        CHECK(off(room, fine) < single_precision);
    }
    SECTION("where they resonate sharply, every term is summed") {
        const Room room = room_of(masonry, masonry, sharp);
        CHECK(nodes(room, band) == 0);
        CHECK(off(room, octaves) < single_precision);
    }
    SECTION("contents that absorb in a band of their own") {
        Room room = room_of(masonry, masonry, masonry);
        room.contents = {9, 0.9, 100, ""};
        CHECK(off(room, octaves) < single_precision);
    }
    SECTION("modes that exchange their numbers between frequencies") {
        Room room = room_of(panel, heavier, Wall{{{845, 0, 1.42e6}}});
        room.walls[0] = Wall{{{8087, 6.07, 3.216e7}}};
        room.walls[2] = Wall{{{10387, 0, 65630}}};
        room.walls[3] = Wall{{{234, 0, 3.731e6}}};
        room.walls[4] = panel;
        room.walls[5] = Wall{{{845, 0, 1.42e6}}};
        const auto fine = logarithmic_grid({10, 200}, 48);
        CHECK(nodes(room, std::span(fine).first(100)) > 0);
        CHECK(off(room, fine) < single_precision);
    }
}

TEST_CASE("Frequencies in any order, and two of a kind") {
    std::vector<double> any(octaves.rbegin(), octaves.rend());
    any[3] = any[60];
    const Room room = room_of(masonry, studs, masonry);
    CHECK(nodes(room, any) == 0);
    CHECK(off(room, any) < single_precision);
    std::vector<double> twice = octaves;
    twice[20] = twice[21];
    CHECK(off(room, twice) < single_precision);
}
