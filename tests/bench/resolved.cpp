// Do the criteria stand still when the analysis grid is doubled? Random rooms, every third of them
// live (heavy walls, absorption 0.015 to 0.03, bare), one sub, three seats, 20 to 120 Hz: what each
// criterion changes by from the default grid to one of half the steps everywhere, beside the plain
// 48 points an octave; and what the extra points cost.
//   bench_resolved [of_width of_distance [rooms]]
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <random>

#include "placement/analysis_grid.hpp"
#include "placement/criteria.hpp"
#include "solvers/constructions.hpp"
#include "solvers/modal.hpp"

using namespace boxroom;

namespace {

struct Case {
    Room room;
    Point sub;
    std::vector<Seat> seats;
};

Case random_case(int n, std::mt19937_64& random, const Air& air) {
    const auto uniform = [&](double a, double b) {
        return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53;
    };
    Case c;
    c.room.width = uniform(2.8, 6), c.room.length = c.room.width * uniform(1, 1.7);
    c.room.height = uniform(2.3, 3);
    const bool live = n % 3 == 0;
    for (Wall& wall : c.room.walls)
        wall =
            live ? wall_from_absorption(uniform(0.015, 0.03), air)
                 : wall_from_construction(constructions()[random() % constructions().size()], air);
    if (!live && n % 2)
        c.room.contents = contents_of(named_contents()[2], c.room.width * c.room.length);
    c.sub = {uniform(0.2, 0.8) * c.room.width, uniform(0.2, 0.5), 0.25};
    for (int s = 0; s < 3; ++s)
        c.seats.push_back({"",
                           {uniform(0.2, 0.8) * c.room.width, uniform(0.5, 0.9) * c.room.length,
                            uniform(1.0, 1.2)},
                           1});
    return c;
}

Criteria judged(const Case& c, const Air& air, const Target& target,
                const std::vector<double>& frequency) {
    std::vector<Point> ears;
    for (const Seat& seat : c.seats) ears.push_back(seat.at);
    const auto z = modal_transfer(c.room, air, frequency, std::array{c.sub}, ears);
    ByFrequency<double> power(frequency.size(), ears.size());
    for (std::size_t f = 0; f < frequency.size(); ++f)  // U ~ 1/f: flat in half space
        for (std::size_t s = 0; s < ears.size(); ++s)
            power(f, s) = std::norm(z.at(f, s, 0) / frequency[f]) * 1e-8;
    const Judge judge(frequency, c.seats, target);
    Criteria out;
    judge.judge_seats(power, out);
    judge.judge_average(judge.seat_average(power), out);
    return out;
}

}  // namespace

int main(int argc, char** argv) {
    Fineness fine;
    if (argc > 2) fine.of_width = std::atof(argv[1]), fine.of_distance = std::atof(argv[2]);
    const int rooms = argc > 3 ? std::atoi(argv[3]) : 20;
    if (argc > 4) fine.beside_band = std::atof(argv[4]);
    const Fineness twice{2 * fine.per_octave, fine.of_width / 2, fine.of_distance / 2,
                         fine.beside_band};
    const Air air;
    const Band analysed{10, 200};
    Target target;
    std::mt19937_64 random(7);
    std::printf(
        "room  volume  points  spread       unevenness   balance      level        reach\n");
    std::printf(
        "        m3    extra   now (plain)  dB, from one grid to the doubled one      %%\n");
    double worst[5]{}, extra = 0;
    for (int n = 0; n < rooms; ++n) {
        const Case c = random_case(n, random, air);
        const auto plain = logarithmic_grid(analysed, 48);
        const auto once = analysis_grid(c.room, air, analysed, target.band, fine);
        const auto doubled = analysis_grid(c.room, air, analysed, target.band, twice);
        const Criteria p = judged(c, air, target, plain), a = judged(c, air, target, once),
                       b = judged(c, air, target, doubled);
        const double more = 100.0 * once.size() / plain.size() - 100;
        extra += more / rooms;
        std::printf("%4d%8.0f%7.0f %%  ", n, c.room.volume(), more);
        int k = 0;
        for (const auto member : {&Criteria::spread_db, &Criteria::unevenness_db,
                                  &Criteria::balance_db, &Criteria::level_db}) {
            const double change = a.*member - b.*member;
            worst[k] = std::max(worst[k], std::abs(change)), ++k;
            std::printf("%+5.3f(%+5.2f) ", change, p.*member - b.*member);
        }
        const double reach = 100 * (a.reach_hz / b.reach_hz - 1);
        worst[4] = std::max(worst[4], std::abs(reach));
        std::printf("%+5.2f\n", reach);
    }
    std::printf("worst                 ");
    for (const double w : worst) std::printf("%5.3f        ", w);
    std::printf("\nmean extra points %.0f %%\n", extra);
}
