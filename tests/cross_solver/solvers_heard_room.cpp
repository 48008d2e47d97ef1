// What is heard while something moves, against the reduced room itself.
#include <catch2/catch.hpp>
#include <cmath>

#include "l_shaped_room.hpp"
#include "solvers/heard_room.hpp"

using namespace boxroom;

namespace {

const Wall studs{{{2200, 11, 1.8e6}}}, plaster{{{14000, 0, 0}}}, brick{{{3e5, 0, 0}}};
const std::vector<double> frequency{24, 31, 47, 66, 90, 111};
const std::vector<Point> seats{{1.3, 3.6, 1.1}, {2.1, 1.6, 1.2}};

double apart(std::complex<double> a, std::complex<double> b) {
    return std::abs(a - b) / std::abs(b);
}

}  // namespace

TEST_CASE("Heard room: whichever side is kept, and over any points, it is the reduced room") {
    const Room room = l_shaped_room(brick, studs, plaster);
    ReducedRoom learnt(room, Air{}, 114);
    learnt.learn(seats);
    const HeardRoom heard(learnt, frequency);
    const std::vector<Point> first{{0.3, 0.4, 0.2}}, moved{{0.9, 0.5, 0.2}};
    const std::vector<Point> seat_moved{seats[0], {1.7, 1.8, 1.2}};
    // From the seats' fields, from the sub's, and anew.
    for (const auto& [sub, ears] : {std::pair{first, seats},
                                    {moved, seats},
                                    {first, seat_moved},
                                    {std::vector<Point>{{4.4, 0.4, 0.3}}, seat_moved}}) {
        const auto z = heard.transfer(sub, ears);
        // By reciprocity from the learnt places: `transfer` learns what it is given first.
        ReducedRoom same = learnt;
        const auto exact = same.transfer<double>(frequency, sub, seats);
        for (std::size_t f = 0; f < frequency.size(); ++f)
            for (std::size_t s = 0; s < ears.size(); ++s) {
                if (ears[s] == seats[s]) CHECK(apart(z.at(f, s, 0), exact.at(f, s, 0)) < 1e-8);
                const auto there = heard.field(sub[0], ears, frequency[f]);
                CHECK(apart(there[s], z.at(f, s, 0)) < 1e-8);
            }
    }
    CHECK(heard.field(first[0], {{-1, 0, 0}, seats[0]}, 47)[0] == 0.0);
}
