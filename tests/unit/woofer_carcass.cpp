// Panels against the volumes they enclose: exact.
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "woofer/carcass.hpp"

using namespace boxroom;

namespace {

double product(const Sides& b) {
    return b.width * b.depth * b.height;
}

/// Any rules a file may give, by a random seed.
EnclosureRules any_rules(std::mt19937& random) {
    std::uniform_real_distribution<double> share(0.5, 2);
    EnclosureRules rules;
    rules.thickness = std::uniform_real_distribution<double>(0.009, 0.03)(random);
    rules.proportion_width = share(random);
    rules.proportion_height = share(random);
    rules.proportion_depth = share(random);
    rules.double_front = random() % 2;
    rules.itemised = random() % 2;
    rules.bodies.driver.value = 0.0015, rules.bodies.amplifier.value = 0.001;
    rules.bodies.braces = static_cast<int>(random() % 3);
    rules.bodies.cleats = random() % 2;
    rules.facing = static_cast<Facing>(random() % 7);
    return rules;
}

}  // namespace

TEST_CASE("The shell's panels fill exactly what lies between inside and outside") {
    std::mt19937 random(3);
    for (int n = 0; n < 300; ++n) {
        const EnclosureRules rules = any_rules(random);
        BuildRules build;
        build.mitred = random() % 2;
        const double net = std::uniform_real_distribution<double>(0.008, 0.2)(random);
        const Carcass box = build_carcass(net, rules, build, n % 2 ? 1e-3 : 0.0254 / 16);
        double shell = 0, within = 0;
        for (const Panel& p : box.panels) (p.inside ? within : shell) += p.count * p.volume;
        CHECK(shell == Approx(product(box.outer) - product(box.inner)).epsilon(1e-10));
        if (rules.itemised) CHECK(within == Approx(box.bracing).margin(1e-12));
        CHECK(box.gross == Approx(product(box.inner)).epsilon(1e-12));
        CHECK(box.gross == Approx(box.net + box.driver + box.amplifier + box.bracing));
    }
}

TEST_CASE("Butt panels are boxes: length x width x thickness") {
    const Carcass box = build_carcass(0.03, {}, {}, 1e-3);
    for (const Panel& p : box.panels) {
        if (p.name.starts_with("brace")) continue;
        CHECK(p.volume == Approx(p.length * p.width * box.thickness));
        CHECK(p.length >= p.width);
    }
}

TEST_CASE("Butt joints by hand: 300 x 280 x 350 mm inside, 20 mm board") {
    EnclosureRules rules;
    rules.thickness = 0.020, rules.double_front = true, rules.bodies.cleats = false;
    const auto list = cut_list({0.300, 0.280, 0.350}, rules, {});  // width, depth, height
    const auto expect = [&](const std::string& name, int count, double length, double width) {
        const auto p =
            std::find_if(list.begin(), list.end(), [&](const Panel& q) { return q.name == name; });
        REQUIRE(p != list.end());
        CHECK(p->count == count);
        CHECK(p->length == Approx(length));
        CHECK(p->width == Approx(width));
    };
    expect("front", 1, 0.390, 0.340);
    expect("back", 1, 0.390, 0.340);
    expect("top and bottom", 2, 0.340, 0.280);
    expect("side", 2, 0.350, 0.280);
    expect("second layer of the front", 1, 0.390, 0.340);
    expect("brace with a window", 1, 0.350, 0.300);
}

TEST_CASE("A mitred panel is the integral of its slices") {
    const double a = 0.4, b = 0.3, t = 0.02;
    double sum = 0;
    const int slices = 10000;
    for (int n = 0; n < slices; ++n) {
        const double in = (n + 0.5) / slices * t;
        sum += (a - 2 * in) * (b - 2 * in) * t / slices;
    }
    CHECK(mitred_volume(a, b, t) == Approx(sum).epsilon(1e-7));
}

TEST_CASE("Sides are whole steps, and the net volume survives the rounding") {
    for (const double step : {1e-3, 0.0254 / 16})
        for (const double net : {0.010, 0.025, 0.060, 0.150}) {
            const Carcass box = build_carcass(net, {}, {}, step);
            for (const double side : {box.outer.width, box.outer.depth, box.outer.height})
                CHECK(side / step == Approx(std::round(side / step)).margin(1e-6));
            CHECK(std::abs(box.net - net) < 0.1e-3);  // the sum closes to 0.1 L
            const Sides exact = enclosure(net, {});
            CHECK(std::abs(box.outer.width - exact.width) < 2.5 * step + 1e-12);
            CHECK(std::abs(box.outer.depth - exact.depth) < 2.5 * step + 1e-12);
            CHECK(std::abs(box.outer.height - exact.height) < 2.5 * step + 1e-12);
        }
}

TEST_CASE("Resonances of the air: c/2L") {
    const auto f = internal_modes({0.343, 0.1715, 0.686}, 343);
    CHECK(f[0] == Approx(500));
    CHECK(f[1] == Approx(1000));
    CHECK(f[2] == Approx(250));
}

TEST_CASE("One sum for what stands in the box is shared out and still adds up") {
    EnclosureRules rules;
    rules.extra_volume = 0.003;
    rules.bodies.driver.value = 0.0014, rules.bodies.amplifier.value = 0.002;
    const Carcass box = build_carcass(0.025, rules, {}, 1e-3);
    CHECK(box.driver == Approx(0.0014));
    CHECK(box.amplifier == Approx(0.0016));
    CHECK(box.bracing == Approx(0).margin(1e-12));
}
