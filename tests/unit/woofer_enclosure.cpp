// From net volume to a box on the floor: by hand.
#include <catch2/catch.hpp>

#include "base/error.hpp"
#include "woofer/enclosure.hpp"

using namespace boxroom;

TEST_CASE("A cube of 27 L inside, 19 mm panels") {
    EnclosureRules rules;
    rules.proportion_width = rules.proportion_height = 1;
    const Sides box = enclosure(0.024, rules);  // + 3 L for driver, amplifier, bracing
    CHECK(box.width == Approx(0.338));
    CHECK(box.depth == Approx(0.338));
    CHECK(box.height == Approx(0.338));
}

TEST_CASE("Proportions hold inside the panels, and the volume with them") {
    EnclosureRules rules;
    rules.proportion_width = 2, rules.proportion_height = 3, rules.proportion_depth = 4;
    rules.thickness = 0.025, rules.extra_volume = 0.001;
    const Sides box = enclosure(0.023, rules);  // 24 L = 0.2 x 0.3 x 0.4 m
    CHECK(box.width == Approx(0.25));
    CHECK(box.height == Approx(0.35));
    CHECK(box.depth == Approx(0.45));
}

TEST_CASE("Impossible boxes are refused") {
    EnclosureRules rules;
    CHECK_THROWS_AS(enclosure(0, rules), Error);
    CHECK_THROWS_AS(enclosure(-0.01, rules), Error);
    rules.proportion_depth = 0;
    CHECK_THROWS_AS(enclosure(0.02, rules), Error);
}

TEST_CASE("The cone sits in the middle of the panel that looks its way") {
    const Sides box{0.4, 0.3, 0.5};  // width along x, depth along y, height along z
    const auto near = [&](Facing facing, double x, double y, double z) {
        const Point p = acoustic_centre(1, 2, box, 0.02, facing);
        CHECK(p.x == Approx(x));
        CHECK(p.y == Approx(y));
        CHECK(p.z == Approx(z));
    };
    near(Facing::left, 0.8, 2, 0.27);
    near(Facing::right, 1.2, 2, 0.27);
    near(Facing::front, 1, 1.85, 0.27);
    near(Facing::back, 1, 2.15, 0.27);
    near(Facing::up, 1, 2, 0.52);
    near(Facing::down, 1, 2, 0.02);
}

TEST_CASE("A box must take the driver's cut-out") {
    // Effective diameter 208 mm (Sd 0.034 m2), cut-out 239 mm; inner sides of a 20 L cube: 271 mm.
    boxroom::EnclosureRules rules;
    rules.proportion_width = rules.proportion_height = 1;
    rules.extra_volume = 0;
    CHECK(boxroom::holds_driver(boxroom::enclosure(0.020, rules), rules, 0.034));
    CHECK_FALSE(boxroom::holds_driver(boxroom::enclosure(0.012, rules), rules, 0.034));  // 229 mm
}

TEST_CASE("A known cut-out decides whether the driver fits") {
    EnclosureRules rules;
    rules.proportion_width = rules.proportion_height = 1;
    rules.extra_volume = 0, rules.cut_out = 0.25;  // 20 L cube: 271 mm, 12 L cube: 229 mm
    CHECK(holds_driver(enclosure(0.020, rules), rules, std::nullopt));
    CHECK_FALSE(holds_driver(enclosure(0.012, rules), rules, std::nullopt));
}

TEST_CASE("Itemised: what stands in the box is added to the net volume, bracing by its own size") {
    EnclosureRules rules;
    rules.itemised = true;
    rules.bodies.driver.value = 0.002, rules.bodies.amplifier.value = 0.001;
    rules.bodies.bracing = 0.0015;
    CHECK(inner_volume(0.03, rules) == Approx(0.0345));
    rules.bodies.bracing.reset();
    for (const double net : {0.008, 0.03, 0.2}) {
        const double gross = inner_volume(net, rules);
        const Sides inner = inner_sides(gross, rules);
        CHECK(inner.width * inner.depth * inner.height == Approx(gross).epsilon(1e-12));
        CHECK(gross - 0.003 - bracing(inner, rules) == Approx(net).epsilon(1e-9));
    }
}

TEST_CASE("A box under a height limit keeps its volume and gets wider and deeper") {
    EnclosureRules rules;
    const double gross = inner_volume(0.06, rules);
    rules.tallest = 0.35, rules.feet = 0.03;
    const Sides inner = inner_sides(gross, rules), outer = outer_sides(inner, rules);
    CHECK(outer.height + rules.feet == Approx(0.35));
    CHECK(inner.width * inner.depth * inner.height == Approx(gross));
    CHECK(inner.width / inner.depth == Approx(1.05));
}

TEST_CASE("A double front adds one panel on the driver's side only") {
    EnclosureRules rules, doubled;
    doubled.double_front = true;
    const Sides a = enclosure(0.03, rules), b = enclosure(0.03, doubled);
    CHECK(b.depth - a.depth == Approx(0.019));
    CHECK(b.width == Approx(a.width));
    CHECK(b.height == Approx(a.height));
    doubled.facing = Facing::up;
    CHECK(enclosure(0.03, doubled).height - a.height == Approx(0.019));
}

TEST_CASE("A driver that looks sideways turns the box") {
    const Sides box{0.4, 0.3, 0.5};
    for (const Facing facing : {Facing::left, Facing::right}) {
        CHECK(turned(box, facing).width == 0.3);
        CHECK(turned(box, facing).depth == 0.4);
    }
    CHECK(turned(box, Facing::back).width == 0.4);
    CHECK(turned(box, Facing::up).width == 0.4);
}

// By hand: 330 cm2 are a circle of 2 sqrt(0.033/pi) = 20.50 cm; 1.15 of it 23.57 cm (common
// practice).
TEST_CASE("A driver whose hole is not given gets one in proportion to its cone") {
    EnclosureRules rules;
    CHECK(*driver_cut_out(rules, 0.033) == Approx(0.2357).epsilon(1e-3));
    CHECK_FALSE(driver_cut_out(rules, std::nullopt));
    rules.cut_out = 0.23;
    CHECK(*driver_cut_out(rules, 0.033) == 0.23);
}

TEST_CASE("a front that is lower than the cut-out takes no driver, a top of the same box does") {
    // Worked by hand: 0.30 m wide and deep and 0.15 m high inside; a cut-out of 0.2 m.
    EnclosureRules rules;
    rules.cut_out = 0.2;
    rules.facing = Facing::front;
    const double panels = 2 * rules.thickness;
    const Sides low{0.30 + panels, 0.30 + panels, 0.15 + panels};
    CHECK_FALSE(holds_driver(low, rules, {}));
    rules.facing = Facing::up;
    CHECK(holds_driver(low, rules, {}));
    rules.facing = Facing::front;
    CHECK(holds_driver({0.30 + panels, 0.30 + panels, 0.21 + panels}, rules, {}));
}
