#include <catch2/catch.hpp>
#include <cmath>

#include "placement/decay_picture.hpp"
#include "placement/listening.hpp"
#include "placement/ringing.hpp"

using namespace boxroom;

namespace {

/// A live room, a driver with three parameters, one sub in a corner, two seats.
Scenario live_scenario(double absorption) {
    Scenario s;
    Room& room = s.acoustics.room;
    room.width = 3.1, room.length = 4.3, room.height = 2.5;
    room.walls.fill(wall_from_absorption(absorption, s.acoustics.air));
    s.acoustics.frequency = logarithmic_grid({10, 200}, 48);
    s.seats = {{"front", {1.5, 2.15, 1.1}, 1}, {"back", {1.5, 4.1, 1.1}, 1}};
    s.design.driver = {27, 0.45, 0.038, {}, {}, {}, {}, {}, {}, {}, {}, {}};
    s.placed.subs = {{"corner", {0.3, 0.4, 0.25}}};
    return s;
}

Listening heard_in(const Scenario& s, const Driver& driver) {
    return listen(s, driver, closed_box(driver, 0.025, 1), s.placed.subs);
}

}  // namespace

TEST_CASE("thresholds of ringing at the published points") {
    // Stephenson, PhD thesis, Salford 2012: 0.85 s at 32 Hz, 0.2 s at 100 Hz and above.
    CHECK(ringing_threshold(32) == Approx(0.85));
    CHECK(ringing_threshold(100) == Approx(0.2));
    CHECK(ringing_threshold(160) == Approx(0.2));
    CHECK(ringing_threshold(25) == Approx(0.85));
    CHECK(ringing_threshold(std::sqrt(3200.)) == Approx((0.85 + 0.2) / 2));
    // Avis, Fazenda & Davies, JAES 55, 2007: Q of 16 is 1.1, 0.56, 0.28 s at 32, 63, 125 Hz.
    CHECK(ringing_threshold_of_q16(32) == Approx(1.1).margin(0.005));
    CHECK(ringing_threshold_of_q16(63) == Approx(0.56).margin(0.005));
    CHECK(ringing_threshold_of_q16(125) == Approx(0.28).margin(0.005));
}

TEST_CASE("the notes that hang are modes, one entry each, worst first, at their loudest seat") {
    const Scenario s = live_scenario(0.02);
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const RingingModes ringing(s.acoustics, s.seats, s.judgement.target.band);
    const Listening heard = heard_in(s, driver);
    const auto notes = ringing.notes(heard);
    REQUIRE(notes.size() > 2);
    const auto modes = room_modes(s.acoustics.room, s.acoustics.air, 200);
    double ratio = HUGE_VAL;
    for (const RingingNote& note : notes) {
        CHECK(note.decay_time > note.threshold);
        CHECK(note.threshold == Approx(ringing_threshold(note.frequency)));
        CHECK(note.decay_time / note.threshold <= ratio);
        ratio = note.decay_time / note.threshold;
        const auto same = std::count_if(notes.begin(), notes.end(),
                                        [&](const auto& n) { return n.order == note.order; });
        CHECK(same == 1);
        const auto mode = std::find_if(modes.begin(), modes.end(),
                                       [&](const Mode& m) { return m.order == note.order; });
        REQUIRE(mode != modes.end());
        CHECK(note.decay_time == mode->decay_time);
    }
    // (0,1,0) has its node at the front seat, halfway down the room.
    const auto length = std::find_if(notes.begin(), notes.end(), [](const RingingNote& n) {
        return n.order == std::array<int, 3>{0, 1, 0};
    });
    REQUIRE(length != notes.end());
    CHECK(length->seat == "back");
    // Alone in its band: its own level is the response's there.
    const auto at =
        std::lower_bound(heard.frequency.begin(), heard.frequency.end(), length->frequency) -
        heard.frequency.begin();
    const double peak = std::max(heard.level_db(at, 1), heard.level_db(at - 1, 1));
    CHECK(length->level_db == Approx(peak).margin(2));
    CHECK(ringing.excess(heard) > 0.5);
    for (const RingingNote& n : notes)
        CHECK(n.in_band == (n.frequency >= 20 && n.frequency <= 120));
    CHECK(ringing_words(notes).find("listeners notice above") != std::string::npos);
}

TEST_CASE("a damped room hangs nowhere") {
    const Scenario s = live_scenario(0.5);
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const RingingModes ringing(s.acoustics, s.seats, s.judgement.target.band);
    CHECK(ringing.known());
    CHECK(ringing.notes(heard_in(s, driver)).empty());
    CHECK(ringing.excess(heard_in(s, driver)) == 0);
    CHECK(ringing_words({}).empty());
}

TEST_CASE("a mode counts less as it sinks under the average, whichever way it is asked") {
    Scenario s = live_scenario(0.02);
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const RingingModes ringing(s.acoustics, s.seats, s.judgement.target.band);
    const Listening corner = heard_in(s, driver);
    // The same by the seat average of |Z|^2, as the ranking asks.
    std::vector<double> average;
    for (std::size_t f = 0; f < corner.frequency.size(); ++f)
        average.push_back((std::norm(corner.transfer_impedance(f, 0)) +
                           std::norm(corner.transfer_impedance(f, 1))) /
                          2);
    const Point place[] = {s.placed.subs[0].at};
    const std::size_t frequencies = corner.frequency.size();
    const ByFrequency<std::complex<double>> unit(
        frequencies, 1, 1, std::vector<std::complex<double>>(frequencies, 1.0));
    CHECK(ringing.excess(place, unit, average) == Approx(ringing.excess(corner)).epsilon(0.02));
    // A sub at the middle of the room drives no odd mode: fewer notes hang.
    s.placed.subs[0].at = {1.55, 2.15, 0.25};
    const auto middle = ringing.notes(heard_in(s, driver));
    CHECK(middle.size() < ringing.notes(corner).size());
    for (const RingingNote& note : middle)
        CHECK((note.order[0] % 2 == 0 && note.order[1] % 2 == 0));
}

TEST_CASE("contours of a straight decay lie where the straight line says") {
    std::vector<double> level;
    for (int n = 0; n <= 200; ++n) level.push_back(80 - 60 * n * 0.01 / 1.2);  // 60 dB in 1.2 s
    const double below[] = {-5, 10, 20, 30, 90};
    const auto t = last_above(level, 0.01, 80, below);
    CHECK(t[0] == 0);
    CHECK(t[1] == Approx(0.2));
    CHECK(t[2] == Approx(0.4));
    CHECK(t[3] == Approx(0.6));
    CHECK(t[4] == Approx(1.8));
}

TEST_CASE("in the picture a mode falls as its decay time says, and an equaliser shortens it") {
    const Scenario s = live_scenario(0.06);
    const Driver driver = complete_driver(s.design.driver, s.acoustics.air);
    const ClosedBox box = closed_box(driver, 0.025, 1);
    const Mode lowest = room_modes(s.acoustics.room, s.acoustics.air, 60).front();
    // Ten decibels less in a bell as wide as the mode's neighbourhood.
    const auto cut = [&](double f) {
        const double off = (f - lowest.frequency) / 5;
        return std::complex<double>(std::pow(10, -0.5 * std::exp(-off * off)), 0);
    };
    const DecayPicture picture = decay_picture(s, driver, box, s.placed.subs, 1, cut);
    REQUIRE(picture.known());
    CHECK(picture.seat == "back");
    REQUIRE(picture.before.size() == 4);
    const auto at = static_cast<std::size_t>(
        std::lower_bound(picture.frequency.begin(), picture.frequency.end(), lowest.frequency) -
        picture.frequency.begin());
    // 60 dB in decay_time: 20 dB between the contours of 20 and 40 dB in a third of it.
    const double third = picture.before[3][at] - picture.before[1][at];
    CHECK(3 * third == Approx(lowest.decay_time).epsilon(0.1));
    CHECK(picture.after[1][at] < picture.before[1][at] - 0.05);
    CHECK(picture.before[0][at] <= picture.before[1][at]);
}

TEST_CASE("a room that is no rectangle has no modes to name where nothing keeps its elements") {
    Scenario s = live_scenario(0.02);
    s.acoustics.room.plan.outline = {{0, 0}, {3.1, 0}, {3.1, 4.3}, {1, 4.3}, {1, 3}, {0, 3}};
    const RingingModes ringing(s.acoustics, s.seats, s.judgement.target.band);
    CHECK_FALSE(ringing.known());
    CHECK(ringing.size() == 0);
}
