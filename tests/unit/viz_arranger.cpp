#include "viz/arranger.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/error.hpp"

using namespace boxroom;

namespace {

/// A room of 4 m by 5 m by 2.5 m with two cubic boxes of 27 L outside and one seat.
RoomView room() {
    RoomView view;
    view.width = 4, view.length = 5, view.height = 2.5, view.gap = 0.05;
    for (double f = 20; f < 161; f *= std::pow(2, 1.0 / 12)) view.frequency.push_back(f);
    view.modes = {{34.3, {0, 1, 0}}, {42.9, {1, 0, 0}}, {43.0, {0, 0, 0}}, {54.9, {1, 1, 0}}};
    view.start.volume = 0.027;
    view.start.frequency = 40;
    view.start.seats = {{"chair", {2, 3.5, 1.1}, 1}};
    view.start.boxes = {{{"one", {}}, {0.2, 0.2, 0}, 0.3, 0.3, Facing::back},
                        {{"two", {}}, {3.0, 0.2, 0}, 0.3, 0.3, Facing::back}};
    view.box_size = [](double volume) {
        if (volume < 0.01) throw Error("box", "too small", "make it larger");
        const double side = std::cbrt(volume);
        return BoxSize{volume, 0.7, 40, side, side, side, 0, 0.1};
    };
    view.stand = [](const StandingBox& box, Point footprint, double volume) {
        StandingBox stood = box;
        stood.width = stood.depth = std::cbrt(volume);
        stood.footprint = footprint;
        return stood;
    };
    return view;
}

}  // namespace

TEST_CASE("a box never ends in another box") {
    const RoomView view = room();
    Arranger arranger(view);
    arranger.move(1, {0.25, 0.2, 0}, 0.06);
    const Point at = arranger.place(1);
    CHECK(std::max(std::abs(at.x - 0.2), std::abs(at.y - 0.2)) == Approx(0.3));
}

TEST_CASE("things are boxes first, then seats; choosing goes round") {
    const RoomView view = room();
    Arranger arranger(view);
    REQUIRE(arranger.things() == 3);
    CHECK(arranger.name(2) == "chair");
    for (int i = 0; i < 3; ++i) arranger.choose_next();
    CHECK(arranger.chosen() == 0);
    arranger.move(2, {9, 1, 0}, 0.06);
    CHECK(arranger.place(2).x == Approx(3.9));
    CHECK(arranger.place(2).z == Approx(1.1));
}

TEST_CASE("the frequency stays on the grid and within it") {
    const RoomView view = room();
    Arranger arranger(view);
    arranger.set_frequency(79);
    CHECK(arranger.now().frequency == Approx(80));  // two octaves over 20 Hz
    arranger.step_frequency(1);
    CHECK(arranger.now().frequency == Approx(80 * std::pow(2, 1.0 / 12)));
    arranger.step_frequency(1000);
    CHECK(arranger.now().frequency == view.frequency.back());
    arranger.step_frequency(-1000);
    CHECK(arranger.now().frequency == view.frequency.front());
}

TEST_CASE("the next mode, up and down again") {
    const RoomView view = room();
    Arranger arranger(view);
    for (double mode : {42.9, 43.0, 54.9, 54.9}) {  // there is none above
        arranger.step_mode(1);
        CHECK(arranger.now().frequency == mode);
    }
    for (double mode : {43.0, 42.9, 34.3, 34.3}) {
        arranger.step_mode(-1);
        CHECK(arranger.now().frequency == mode);
    }
    REQUIRE(arranger.nearest_mode());
    CHECK(arranger.nearest_mode()->order == std::array<int, 3>{0, 1, 0});
    arranger.step_frequency(1);  // back on the grid, next to where it was
    CHECK(std::abs(std::log2(arranger.now().frequency / 34.3)) < 1.6 / 12);
}

TEST_CASE("a larger box stays in its corner; an impossible one changes nothing") {
    const RoomView view = room();
    Arranger arranger(view);
    REQUIRE(arranger.scale_volume(64.0 / 27));  // side 0.4 m
    CHECK(arranger.box().outer.width == Approx(0.4));
    CHECK(arranger.place(0).x == Approx(0.25));
    CHECK(arranger.place(0).y == Approx(0.25));
    CHECK(arranger.place(1).x == Approx(2.95));  // the right wall is the nearer one
    CHECK_FALSE(arranger.scale_volume(0.1));
    CHECK_FALSE(arranger.scale_volume(1000));
    CHECK(arranger.now().volume == Approx(0.064));
    arranger.reset();
    CHECK(arranger.place(0).x == Approx(0.2));
    CHECK(arranger.now().volume == Approx(0.027));
}

TEST_CASE("in an L-shaped room nothing enters the notch, and boxes keep their gap to its walls") {
    RoomView view = room();
    view.no_floor = {{"", 2.5, 3, 4, 5}};
    view.start.seats[0].at = {1, 3.5, 1.1};
    Arranger arranger(view);
    arranger.move(0, {3.4, 4.2, 0}, 0.06);
    const Point box = arranger.place(0);  // 0.3 m wide: half of it and the gap off either wall
    CHECK((box.x <= Approx(2.5 - 0.05 - 0.15) || box.y <= Approx(3 - 0.05 - 0.15)));
    arranger.move(2, {3.4, 4.2, 0}, 0.06);
    const Point seat = arranger.place(2);
    CHECK((seat.x <= Approx(2.4) || seat.y <= Approx(2.9)));
}

TEST_CASE(
    "a box stays off a block that it cannot pass under, a head off one that reaches the ear") {
    RoomView view = room();
    view.blocks = {{"shelf high up", "", {0, 1, 1.0}, {2, 2, 1.5}},
                   {"chest", "", {2, 1, 0}, {4, 2, 0.5}}};
    Arranger arranger(view);
    arranger.move(0, {1, 1.5, 0}, 0);
    CHECK(arranger.place(0).y == Approx(1.5));  // under the shelf
    arranger.move(0, {3, 1.5, 0}, 0);
    CHECK(std::abs(arranger.place(0).y - 1.5) >= Approx(0.65));
    arranger.move(2, {3, 1.5, 0}, 0);
    CHECK(arranger.place(2).y == Approx(1.5));  // over the chest
    arranger.move(2, {1, 1.5, 0}, 0);
    CHECK(std::abs(arranger.place(2).y - 1.5) >= Approx(0.6));
}

TEST_CASE("every step can be taken back, to the very places it began from") {
    const RoomView view = room();
    Arranger arranger(view);
    CHECK_FALSE(arranger.undo());
    std::vector<Arrangement> was;
    const auto step = [&](auto act) {
        was.push_back(arranger.now());
        arranger.begin_step();
        act();
    };
    step([&] {  // one drag is one step, however many moves it has
        arranger.move(0, {1, 1, 0}, 0), arranger.move(0, {1.5, 2, 0}, 0);
    });
    step([&] { arranger.scale_volume(1.05); });
    step([&] { arranger.move(2, {1, 3, 0}, 0); });
    arranger.begin_step();  // a press that moves nothing is no step
    step([&] { arranger.reset(); });
    CHECK(arranger.changed().empty());
    arranger.set_frequency(80);
    for (std::size_t n = was.size(); n-- > 0;) {
        REQUIRE(arranger.undo());
        const Arrangement& now = arranger.now();
        CHECK(now.volume == was[n].volume);
        CHECK(arranger.box().volume == was[n].volume);
        for (std::size_t b = 0; b < now.boxes.size(); ++b)
            CHECK(now.boxes[b].footprint == was[n].boxes[b].footprint);
        CHECK(now.seats[0].at == was[n].seats[0].at);
        CHECK(now.frequency == Approx(80).epsilon(0.03));  // what is looked at is no step
        if (n == 2) CHECK(arranger.changed() == std::vector<std::string>{"size of the box", "one"});
    }
    CHECK(arranger.changed().empty());
    CHECK_FALSE(arranger.undo());
}
