// Weight and balance by hand.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "woofer/weight.hpp"

using namespace boxroom;

namespace {

Carcass plain_box(const EnclosureRules& rules) {
    Carcass box;
    box.inner = {0.36, 0.26, 0.46};
    box.outer = outer_sides(box.inner, rules);
    box.gross = box.net = 0.36 * 0.26 * 0.46;
    box.thickness = rules.thickness;
    box.panels = cut_list(box.inner, rules, {});
    return box;
}

}  // namespace

TEST_CASE("An empty shell: 400 x 300 x 500 mm outside, 20 mm MDF") {
    EnclosureRules rules;
    rules.thickness = 0.02, rules.bodies.braces = 0, rules.bodies.cleats = false;
    const Balance b = weigh(plain_box(rules), rules, {}, 0, 0, 0, std::nullopt);
    // 0.060 - 0.043056 = 0.016944 m3 of 750 kg/m3.
    CHECK(b.mass == Approx(12.708));
    CHECK(b.centre.x == Approx(0).margin(1e-12));
    CHECK(b.centre.y == Approx(0).margin(1e-12));
    CHECK(b.centre.z == Approx(0.25));
    CHECK(b.tipping_angle == Approx(std::atan(0.15 / 0.25)));
    CHECK(b.tipping_push == Approx(12.708 * 9.81 * 0.15 / 0.5));
}

TEST_CASE("Each panel by itself gives the same weight and centre, double front and feet included") {
    for (const Facing facing : {Facing::inward, Facing::up, Facing::down}) {
        EnclosureRules rules;
        rules.thickness = 0.02, rules.double_front = true, rules.feet = 0.03;
        rules.facing = facing, rules.bodies.braces = 0, rules.bodies.cleats = false;
        const Carcass box = plain_box(rules);
        const Balance b = weigh(box, rules, {}, 0, 0, 0, std::nullopt);
        double mass = 0;
        for (const Panel& p : box.panels) mass += p.count * p.length * p.width * 0.02 * 750;
        CHECK(b.mass == Approx(mass));
        // By hand: the even shell of 12.708 kg, and the layer on one side of it.
        const bool top = facing != Facing::inward;
        const double layer = 750 * 0.02 * 0.4 * (top ? 0.3 : 0.5);
        const double shift = layer / (12.708 + layer);
        if (!top) {
            // The shell's middle lies 10 mm behind the box's, the layer's 150 mm before it.
            CHECK(b.centre.y == Approx(0.01 - shift * (0.15 + 0.01)));
            CHECK(b.centre.z == Approx(0.03 + 0.25));
        } else {
            const double low = facing == Facing::down ? 0.03 + 0.02 : 0.03;
            const double at = facing == Facing::down ? 0.03 + 0.01 : 0.03 + 0.51;
            CHECK(b.centre.z == Approx((1 - shift) * (low + 0.25) + shift * at));
        }
    }
}

TEST_CASE("Holes take weight away, driver and amplifier add it") {
    EnclosureRules rules;
    rules.thickness = 0.02, rules.bodies.braces = 0, rules.bodies.cleats = false;
    rules.amplifier_cut_out = {0.2, 0.25};
    const Balance b = weigh(plain_box(rules), rules, {}, 6, 4, 0.5, 0.24);
    const double hole = 750 * 0.02 * std::numbers::pi / 4 * 0.24 * 0.24;
    CHECK(b.mass == Approx(12.708 - hole - 750 * 0.02 * 0.05 + 6 + 4 + 0.5));
}

TEST_CASE("A heavy driver in front makes the front the edge it tips over") {
    EnclosureRules rules;
    rules.thickness = 0.02;
    const Carcass box = plain_box(rules);
    CHECK(weigh(box, rules, {}, 12, 0, 0, 0.24).edge == "front");
    CHECK(weigh(box, rules, {}, 2, 14, 0, 0.24).edge == "back");
}
