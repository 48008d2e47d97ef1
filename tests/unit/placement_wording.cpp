// What a plan says: the same facts in both units, and the words that fit them.
#include "placement/wording.hpp"

#include <catch2/catch.hpp>
#include <sstream>

using namespace boxroom;

namespace {

/// Three boxes; the middle one is best in the room, the first in half space, the last is built.
struct Case {
    Scenario scenario;
    Plan plan;
    Decision decision;
    explicit Case(double worst_balance = 5) {
        scenario.seats = {{"a", {}, 1}, {"b", {}, 1}};
        plan.boxes = {{0.6, 0.040, 36, 36, {}, 1.0, worst_balance},
                      {0.7, 0.0283168, 42, 42, {}, 1.5, 2.0},   // 1 ft3
                      {0.9, 0.0141584, 54, 50, {}, 2.5, 2.3}};  // 1/2 ft3
        plan.half_space_best = 0, plan.in_room_best = 1, plan.textbook = 1, plan.build = 2;
        plan.by_band = {{{30, 120}, 0.72, 0.0283168, 0.9, 0.0141584},
                        {{20, 120}, 0.62, 0.040, 0.65, 0.035}};
        plan.decided_by = "room";
        plan.spot.footprint = {0.4, 3.048, 0};  // 10 ft from the front wall
        plan.spot.rank = 1;
        plan.spots = {plan.spot, plan.spot, plan.spot};
        plan.spots[1].rank = 2, plan.spots[1].criteria.spread_db = 4.4;
        plan.spots[2].rank = 3, plan.spots[2].criteria.spread_db = 2.7;
        plan.at_build.frequency = {20, 40, 80};
        plan.at_build.lift_db = {12, 9, 6};
        decision.subs = {
            {"sub", "", 0.0141584, 0.9, {}, {0.4, 3.048, 0}, {0.6, 3.048, 0.2}, Facing::right, {}}};
        decision.heard.criteria.spread_db = 2.4;
    }
    PlanWords words(Units units = Units::metric) const {
        return plan_words(plan, decision, scenario, units);
    }
};

bool says(const std::string& text, const std::string& what) {
    return text.find(what) != std::string::npos;
}

/// The most words of a sentence; a list is one, its parts are not.
int longest_sentence(const std::string& text) {
    int longest = 0, words = 0;
    std::istringstream in(text);
    for (std::string word; in >> word;) {
        longest = std::max(longest, ++words);
        if (word.ends_with('.') || word.ends_with(';') || word.ends_with(':')) words = 0;
    }
    return longest;
}

}  // namespace

TEST_CASE("A plan's words: the same facts in either units") {
    const Case c;
    const PlanWords metric = c.words(), imperial = c.words(Units::imperial);
    CHECK(says(metric.recommendation, "one box of 14 L"));
    CHECK(says(metric.recommendation, "3.05 m from the front wall"));
    CHECK(says(imperial.recommendation, "0.50 ft3"));
    CHECK(says(imperial.recommendation, "10 ft from the front wall"));
    for (const PlanWords* words : {&metric, &imperial}) {
        CHECK(says(words->recommendation, "facing right"));
        REQUIRE(words->places.size() == 1);
        CHECK(says(words->recommendation, "centre"));
        CHECK(says(words->places[0], "middle of the cone"));
        CHECK_FALSE(says(words->places[0], "delay"));  // one box plays as it comes
        CHECK(says(words->reason_spot, "the seats differ by 2.4 dB"));
        // The median of 2.4, 4.4 and 2.7, not what the second of the ranking has.
        CHECK(says(words->reason_spot, "middling spot they differ by 2.7 dB"));
        CHECK(says(words->reason_box, "an endless floor asks for Qtc 0.72"));
        CHECK(says(words->reason_box, "this room for Qtc 0.90"));
        CHECK(says(words->reason_box, "From 20 Hz they ask for Qtc 0.62 and 0.65"));
        CHECK(says(words->reason_box, "the room decides"));
        CHECK(says(words->how_sure, "1 other spot does"));  // 2.7 dB, not 4.4
        CHECK(words->agreement.empty());
        CHECK(words->reason_level.empty());  // nothing is known of any limit
        CHECK(words->cautions.size() == 5);
        for (const std::string& text : {words->recommendation, words->reason_spot,
                                        words->reason_box, words->how_much, words->how_sure})
            CHECK(longest_sentence(text) <= 25);
    }
}

TEST_CASE("Several boxes: each has its place, and no place is the headline's") {
    Case c;
    c.decision.subs.push_back(c.decision.subs[0]);
    c.decision.subs[1].dial = {-3, 0.0042, -1};
    const PlanWords words = c.words();
    CHECK(says(words.recommendation, "Build two boxes of 14 L each"));
    REQUIRE(words.places.size() == 2);
    CHECK(says(words.places[1], "gain -3.0 dB, delay 4.2 ms, polarity reversed"));
    CHECK(says(words.places[1], "centre of the box"));
    CHECK_FALSE(says(words.places[1], "14 L"));  // the headline has said so
    c.decision.subs[1].volume = 0.03;
    CHECK(says(c.words().recommendation, "different sizes"));
    CHECK(says(c.words().places[1], "30 L"));
}

TEST_CASE("One seat: nothing is said of seats that differ") {
    Case c;
    c.scenario.seats.pop_back();
    c.decision.robustness.known = true;
    const PlanWords words = c.words();
    for (const std::string& text : {words.reason_spot, words.how_sure, words.recommendation}) {
        CHECK_FALSE(says(text, "differ"));
        CHECK_FALSE(says(text, "spread"));
    }
    CHECK(says(words.reason_spot, "strays from the target"));
}

TEST_CASE("A plan's words follow how much the box matters") {
    CHECK(says(Case(2.4).words().how_much, "hardly matters"));  // 0.4 dB between best and worst
    CHECK(
        says(Case(5).words().how_much, "The flattest box would be 14 L larger and 0.3 dB flatter"));
    Case best(5);
    best.plan.build = best.plan.in_room_best;
    CHECK(says(best.words().how_much, "the worst box tried would be 3.0 dB further off balance"));
    CHECK(says(best.words().how_much, "names no equaliser, so balance chose the box"));
    best.scenario.design.equaliser_available = true;
    CHECK(says(best.words().how_much, "size costs level and power, not balance"));
}

TEST_CASE("What ends the level is said, and how it meets what is asked") {
    Case c;
    c.decision.loudest = {104.4, 33, "excursion"};
    c.decision.watts = 118;
    CHECK(says(c.words().reason_level, "plays up to 104 dB at the seats, down to 20 Hz"));
    CHECK(says(c.words().reason_level, "the cone's travel, at 33 Hz"));
    CHECK(says(c.words().reason_level, "about 118 W for each box"));
    c.scenario.judgement.target.level = 102;
    CHECK(says(c.words().reason_level, "That is enough for the 102 dB asked"));
    c.scenario.judgement.target.level = 110;
    CHECK(says(c.words().reason_level, "It misses the 110 dB asked by 6 dB"));
}
