// Do the criteria stand still when the analysis grid is doubled? Random rooms, every third of them
// live (heavy walls, absorption 0.015 to 0.03, bare), one sub, three seats, 20 to 120 Hz: what each
// criterion changes by from the default grid to one of half the steps everywhere, beside the plain
// 48 points an octave; and what the extra points cost.
//   bench_resolved [of_width of_distance [rooms]]
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "../unit/resolved_case.hpp"
#include "placement/analysis_grid.hpp"

using namespace boxroom;
using namespace boxroom::resolved;

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
