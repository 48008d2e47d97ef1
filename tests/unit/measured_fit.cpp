// The machinery of the fit, in a room whose truth the model can reach: the same solver makes the
// levels, so nothing here says how well a living room is fitted (tests/end_to_end/test_fit.py
// does).
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "base/levels.hpp"
#include "measured/furniture_words.hpp"
#include "measured/predicted.hpp"
#include "measured/room_fit.hpp"
#include "small_room.hpp"

using namespace boxroom;

namespace {

Scenario room() {
    Scenario s = small_room(0.5, 24);
    s.seats.clear();
    for (const double x : {0.8, 1.6, 2.4, 3.0})
        s.seats.push_back({"seat " + std::to_string(s.seats.size()), {x, 2.2 + 0.2 * x, 1.1}, 1});
    s.placed.subs = {{"corner", {0.4, 0.4, 0.3}}};
    s.judgement.target.band = {25, 100};
    s.acoustics.frequency = logarithmic_grid({20, 125}, 24);
    s.acoustics.resolved = false;
    return s;
}

/// Curves that the room `truth` has at the places of `told`, each with a gain of its own.
std::vector<HeardCurve> curves(const Scenario& truth, const Scenario& told, const Driver& driver,
                               const ClosedBox& box) {
    Scenario s = truth;
    s.acoustics.frequency = fit_grid(told);
    std::vector<Recording> recordings;
    for (const Seat& seat : told.seats) {
        Recording r;
        r.name = seat.name + ".csv", r.seat = seat.name, r.sub = "corner", r.at = seat.at;
        recordings.push_back(r);
    }
    const auto levels = levels_of(predicted_pressures(s, driver, box, recordings));
    std::vector<HeardCurve> out;
    for (std::size_t r = 0; r < recordings.size(); ++r) {
        HeardCurve curve;
        curve.recording = recordings[r], curve.frequency = s.acoustics.frequency;
        for (const double level : levels[r]) {
            curve.level_db.push_back(level + 3.0 * static_cast<double>(r) - 4);
            curve.doubt_db.push_back(0.3), curve.trusted.push_back(1);
        }
        out.push_back(std::move(curve));
    }
    return out;
}

const FittedParameter& named(const RoomFit& fit, const std::string& start) {
    for (const FittedParameter& p : fit.parameters)
        if (p.name.starts_with(start)) return p;
    throw std::out_of_range(start);
}

}  // namespace

TEST_CASE("A room of other walls and another length is found again, at left-out seats too") {
    const Scenario told = room();
    Scenario truth = told;
    truth.acoustics.room.length += 0.02;
    for (int w : {left_wall, front_wall})
        for (Branch& b : truth.acoustics.room.walls[w].branches) b.resistance *= 1.4;
    const Driver driver = complete_driver(told.design.driver, told.acoustics.air);
    const ClosedBox box = closed_box_for_qtc(driver, 0.8, 1);
    const RoomFit fit = fit_room({told, driver, box, curves(truth, told, driver, box), {}});
    CHECK(fit.settled);
    for (const auto* all : {&fit.seats, &fit.left_out}) {
        REQUIRE(all->size() == 4);
        double before = 0, after = 0;
        for (const SeatMisfit& seat : *all) before += seat.before_db, after += seat.after_db;
        INFO(before << " " << after);
        CHECK(after < 0.4 * before);
    }
    const FittedParameter& length = named(fit, "room length");
    CHECK(length.found.low <= truth.acoustics.room.length);
    CHECK(length.found.high >= truth.acoustics.room.length);
    CHECK(length.found.high - length.found.low < length.prior.high - length.prior.low);
    CHECK(fit.next.share > 0);
    CHECK(fit.next.share < 1);
}

TEST_CASE("A room that is as its file says stays so") {
    const Scenario told = room();
    const Driver driver = complete_driver(told.design.driver, told.acoustics.air);
    const ClosedBox box = closed_box_for_qtc(driver, 0.8, 1);
    const RoomFit fit = fit_room({told, driver, box, curves(told, told, driver, box), {}});
    for (const FittedParameter& p : fit.parameters) {
        INFO(p.name);
        const double wide = p.prior.high - p.prior.low;
        CHECK(std::abs(p.found.best - p.prior.best) < 0.1 * wide);
    }
    CHECK_FALSE(fit.remarks.empty());  // little to correct
    CHECK(fit.furniture_looked_for);
    CHECK_FALSE(fit.furniture);
}

TEST_CASE("A room with a pillar, by elements, is found again") {
    Scenario told = room();
    told.acoustics.room.plan.blocks.push_back(
        {"pillar", {3.0, 3.8, 0}, {3.6, 4.4, 2.4}, {"pillar", {{{9000, 0, 0}}}, ""}});
    Scenario truth = told;
    truth.acoustics.air.speed_of_sound *= 1.004;
    for (int w : {left_wall, front_wall})
        for (Branch& b : truth.acoustics.room.walls[w].branches) b.resistance *= 1.4;
    const Driver driver = complete_driver(told.design.driver, told.acoustics.air);
    const ClosedBox box = closed_box_for_qtc(driver, 0.8, 1);
    const auto heard = curves(truth, told, driver, box);
    const RoomFit fit = fit_room({told, driver, box, heard, {}});
    CHECK(fit.settled);
    CHECK_FALSE(fit.furniture_looked_for);
    for (const auto* all : {&fit.seats, &fit.left_out}) {
        double before = 0, after = 0;
        for (const SeatMisfit& seat : *all) before += seat.before_db, after += seat.after_db;
        INFO(before << " " << after);
        CHECK(after < 0.5 * before);
    }
    const Interval sound = named(fit, "speed of sound").found;
    CHECK(sound.low <= truth.acoustics.air.speed_of_sound);
    CHECK(sound.high >= truth.acoustics.air.speed_of_sound);
    // What it says of the fitted room is what another solution of that room says.
    Scenario fitted = fit.state.scenario;
    fitted.acoustics.frequency = fit_grid(told);
    ClosedBox fitted_box = box;
    fitted_box.fc *= fit.state.fc_factor, fitted_box.qtc *= fit.state.qtc_factor;
    const auto anew =
        levels_of(predicted_pressures(fitted, driver, fitted_box, fit.state.recordings));
    for (std::size_t r = 0; r < anew.size(); ++r) {
        double sum = 0, squares = 0;
        for (std::size_t f = 0; f < anew[r].size(); ++f) {
            const double apart = fit.after_db[r][f] - anew[r][f];  // but for the recording's gain
            sum += apart, squares += apart * apart;
        }
        const auto n = static_cast<double>(anew[r].size());
        CHECK(std::sqrt(squares / n - sum * sum / n / n) < 0.1);
    }
}

TEST_CASE("A wardrobe that the file lacks is found, in a room that elements solved") {
    const Scenario told = room();
    Scenario truth = told;
    const Block wardrobe{
        "wardrobe", {2.0, 3.8, 0}, {3.1, 4.4, 2.0}, {"wardrobe", {{{9000, 0, 0}}}, ""}};
    truth.acoustics.room.plan.blocks.push_back(wardrobe);
    const Driver driver = complete_driver(told.design.driver, told.acoustics.air);
    const ClosedBox box = closed_box_for_qtc(driver, 0.8, 1);
    const RoomFit fit = fit_room({told, driver, box, curves(truth, told, driver, box), {}});
    REQUIRE(fit.furniture);
    CHECK(fit.furniture->wall == back_wall);
    const Block& found = fit.furniture->block;
    INFO(found.from.x << " to " << found.to.x << ", " << found.from.y << ", " << found.to.z);
    CHECK(std::abs((found.from.x + found.to.x) / 2 - 2.55) < 0.25);
    const auto air_taken = [](const Block& b) {
        return (b.to.x - b.from.x) * (b.to.y - b.from.y) * b.to.z;
    };
    CHECK(air_taken(found) == Approx(air_taken(wardrobe)).epsilon(0.35));
    double before = 0, after = 0;
    for (const SeatMisfit& seat : fit.left_out) before += seat.before_db, after += seat.after_db;
    INFO("left out " << before << " " << after);
    CHECK(after < 0.5 * before);
    CHECK(furniture_words(fit, Units::metric).find("by the back wall") != std::string::npos);
}

TEST_CASE("A sub that is wired the other way round is told by the phase of its recordings") {
    Scenario told = room();
    told.placed.subs.push_back({"other", {3.2, 0.4, 0.3}});
    Scenario truth = told;
    for (Branch& b : truth.acoustics.room.walls[front_wall].branches) b.resistance *= 1.4;
    const Driver driver = complete_driver(told.design.driver, told.acoustics.air);
    const ClosedBox box = closed_box_for_qtc(driver, 0.8, 1);
    const double later[] = {0.0, 0.0075};
    truth.acoustics.frequency = fit_grid(told);
    std::vector<Recording> recordings;
    for (const PlacedSub& sub : told.placed.subs)
        for (const Seat& seat : told.seats) {
            Recording& one = recordings.emplace_back();
            one.name = seat.name + ".csv", one.seat = seat.name, one.sub = sub.name;
            one.at = seat.at;
        }
    const auto pressures = predicted_pressures(truth, driver, box, recordings);
    std::vector<HeardCurve> heard;
    for (std::size_t r = 0; r < recordings.size(); ++r) {
        const bool other = recordings[r].sub == "other";
        HeardCurve& curve = heard.emplace_back();
        curve.recording = recordings[r], curve.frequency = truth.acoustics.frequency;
        curve.trusted.assign(curve.frequency.size(), 1);
        curve.doubt_db.assign(curve.frequency.size(), 0.3);
        for (std::size_t f = 0; f < curve.frequency.size(); ++f) {
            const double turn = -2 * std::numbers::pi * curve.frequency[f] * later[other];
            const auto p = (other ? -1.0 : 1.0) * std::polar(1.0, turn) * pressures[r][f];
            curve.level_db.push_back(db_of_amplitude(std::abs(p)) + 7);
            curve.phase.push_back(std::arg(p));
        }
    }
    FitQuestion question{told, driver, box, heard, {}};
    question.look_for_furniture = false;
    const RoomFit fit = fit_room(question);
    REQUIRE(fit.recordings.size() == recordings.size());
    for (std::size_t r = 0; r < recordings.size(); ++r) {
        const bool other = recordings[r].sub == "other";
        REQUIRE(fit.recordings[r].timing);
        CHECK(fit.recordings[r].timing->inverted == other);
        CHECK(fit.recordings[r].timing->delay_s == Approx(later[other]).margin(0.3e-3));
    }
    const auto of_polarity = [](const std::string& one) {
        return one.find("other sounds the other way round from corner") != one.npos;
    };
    CHECK(std::ranges::count_if(fit.remarks, of_polarity) == 1);
    // A difference alone is told: upside down all together is the recorder's.
    for (HeardCurve& curve : question.heard)
        if (curve.recording.sub == "corner")
            for (double& phase : curve.phase) phase += std::numbers::pi;
    CHECK(std::ranges::count_if(fit_room(question).remarks, of_polarity) == 0);
}

TEST_CASE("Without a recording there is nothing to fit") {
    const Scenario told = room();
    const Driver driver = complete_driver(told.design.driver, told.acoustics.air);
    CHECK_THROWS_AS(fit_room({told, driver, closed_box_for_qtc(driver, 0.8, 1), {}, {}}), Error);
}
