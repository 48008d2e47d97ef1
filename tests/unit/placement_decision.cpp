// The rules by which a box and a number of boxes are chosen: what they promise, on pools of boxes
// made up at random.
#include "placement/decision.hpp"

#include <catch2/catch.hpp>
#include <random>

using namespace boxroom;

namespace {

/// Boxes by rising Qtc, as a sweep has them; every other one may be ruled out.
std::vector<BoxChance> pool(std::mt19937& dice, int count) {
    std::uniform_real_distribution<double> balance(0, 3), loudest(90, 110), step(0.02, 0.1);
    std::vector<BoxChance> boxes;
    double qtc = 0.5;
    for (int n = 0; n < count; ++n) {
        qtc = std::min(1.0, qtc + step(dice));
        boxes.push_back(
            {0.2 / (qtc * qtc * (n + 1)), qtc, balance(dice), loudest(dice), balance(dice) > 0.6});
    }
    boxes.front().allowed = true;
    return boxes;
}

std::vector<BoxNeed> needs() {
    return {{0.5, {}, false, true},    {0.5, 100.0, false, true}, {0.5, {}, true, true},
            {0.5, 100.0, true, true},  {0.5, 120.0, true, true},  {0.5, {}, true, false},
            {1.5, 104.0, false, true}, {0, {}, false, false}};
}

}  // namespace

TEST_CASE("A box more to choose from never makes the choice worse by its own measure") {
    std::mt19937 dice(7);
    for (int trial = 0; trial < 2000; ++trial) {
        const auto large = pool(dice, 2 + trial % 7);
        for (const BoxNeed& need : needs())
            for (std::size_t out = 1; out < large.size(); ++out) {
                auto small = large;
                small[out].allowed = false;
                const BoxChance &with = large[box_to_build(large, need)],
                                &without = small[box_to_build(small, need)];
                INFO(trial << ' ' << out << ' ' << need.equaliser);
                CHECK_FALSE(worse(with, without, need));
            }
    }
}

TEST_CASE("The rule takes the smallest of what is as good, and nothing that is not allowed") {
    std::vector<BoxChance> boxes{{0.090, 0.55, 1.0, 100},
                                 {0.022, 0.71, 1.2, 101},
                                 {0.015, 0.85, 1.45, 101},
                                 {0.009, 1.05, 1.4, 101}};
    CHECK(flattest_box(boxes) == 0);
    CHECK(box_by_balance(boxes, 0.5) == 2);  // the last would do, but for its Qtc
    boxes[2].allowed = false;
    CHECK(box_by_balance(boxes, 0.5) == 1);
    boxes[0].allowed = false;  // now the flattest has 1.2 dB
    CHECK(flattest_box(boxes) == 1);
    for (BoxChance& box : boxes) box.allowed = false;
    CHECK(box_by_balance(boxes, 0.5) == -1);
    CHECK(box_to_build(boxes, {}) == -1);
}

TEST_CASE("Four times the volume is never taken for 1 dB of tilt where an equaliser mends it") {
    const std::vector<BoxChance> boxes{
        {0.092, 0.55, 0.7, 104}, {0.023, 0.80, 1.8, 104}, {0.015, 0.95, 2.6, 103}};
    CHECK(box_to_build(boxes, {0.5, {}, false, true}) == 0);  // by balance, nothing else asked
    CHECK(box_to_build(boxes, {0.5, {}, true, true}) == 1);   // as loud as the loudest
    CHECK(box_to_build(boxes, {0.5, 103.0, true, true}) == 2);
    CHECK(box_to_build(boxes, {0.5, 103.5, true, true}) == 1);
    CHECK(box_to_build(boxes, {0.5, 110.0, true, true}) == 1);  // none does: the loudest, smallest
    // Without an equaliser a level asked rules out what cannot play it, and the tilt decides.
    CHECK(box_to_build(boxes, {0.5, 104.0, false, true}) == 0);
    // Where the limits are unknown nothing can be said of the level: by balance.
    CHECK(box_to_build(boxes, {0.5, 103.0, true, false}) == 0);
}

TEST_CASE("A further box must lower the spread, and in nine draws of ten") {
    CHECK(further_box_is_worth_it(0.6, -1, 0.5));  // not drawn
    CHECK(further_box_is_worth_it(0.6, 0.95, 0.5));
    CHECK_FALSE(further_box_is_worth_it(0.6, 0.75, 0.5));
    CHECK_FALSE(further_box_is_worth_it(0.4, 1, 0.5));
}
