// What a plan says: the same facts in both units, and the words that fit them.
#include "placement/wording.hpp"

#include <catch2/catch.hpp>

using namespace boxroom;

namespace {

/// Three boxes; the middle one is best in the room, the first in half space, the last is built.
Plan invented(double worst_balance) {
    Plan plan;
    plan.boxes = {{0.6, 0.040, 36, 36, {}, 1.0, worst_balance},
                  {0.7, 0.0283168, 42, 42, {}, 1.5, 2.0},   // 1 ft3
                  {0.9, 0.0141584, 54, 50, {}, 2.5, 2.3}};  // 1/2 ft3
    plan.half_space_best = 0, plan.in_room_best = 1, plan.textbook = 1, plan.build = 2;
    plan.spot.footprint = {0.4, 3.048, 0};  // 10 ft from the front wall
    plan.spot.facing = Facing::right;
    plan.spot.criteria.spread_db = 2.4;
    plan.spots = {plan.spot};
    plan.at_build.frequency = {20, 40, 80};
    plan.at_build.lift_db = {12, 9, 6};
    return plan;
}

bool says(const std::string& text, const std::string& what) {
    return text.find(what) != std::string::npos;
}

}  // namespace

TEST_CASE("A plan's words: the same facts in either units") {
    const Plan plan = invented(5);
    const Scenario scenario;
    const PlanWords metric = plan_words(plan, scenario, Units::metric),
                    imperial = plan_words(plan, scenario, Units::imperial);
    CHECK(says(metric.recommendation, "14 L"));
    CHECK(says(metric.recommendation, "3.05 m from the front wall"));
    CHECK(says(imperial.recommendation, "0.50 ft3"));
    CHECK(says(imperial.recommendation, "10 ft from the front wall"));
    for (const PlanWords* words : {&metric, &imperial}) {
        CHECK(says(words->recommendation, "facing the right wall"));
        CHECK(says(words->recommendation, "2.4 dB"));
        CHECK(says(words->reason_box, "Qtc 0.60, the lowest tried"));
        CHECK(words->agreement.empty());
        CHECK(words->reason_level.empty());  // nothing is known of any limit
        CHECK(words->cautions.size() == 5);
    }
}

TEST_CASE("A plan's words follow how much the box matters") {
    const Scenario scenario;  // indifference 0.5 dB
    const auto how_much = [&](const Plan& plan) {
        return plan_words(plan, scenario, Units::metric).how_much;
    };
    CHECK(says(how_much(invented(2.4)), "hardly matters"));  // 0.4 dB between best and worst
    CHECK(says(how_much(invented(5)), "smaller than the best on paper by 14 L"));
    CHECK(says(how_much(invented(5)), "0.3 dB worse"));
    Plan best = invented(5);
    best.build = best.in_room_best;
    CHECK(says(how_much(best), "the worst box of the sweep would cost 3.0 dB"));
    CHECK_FALSE(says(how_much(best), "smaller than"));
}
