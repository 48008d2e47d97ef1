// rank.h5 for several subs (N sets of K): as without, plus
//   /spots/gain /delay          double (N,K)    dB, s
//   /spots/polarity             int    (N,K)    1        1 or -1
//   /spots/box_volume           double (N,K)    m3       where [search] volumes mixes boxes
//   /spots/share_of_wins        double (N)      1        NaN where not drawn
//   /spots/equalised/*          double (N)      as the criteria; NaN where not equalised
//   /method /reason             text ()
#include "files/set_results.hpp"

#include "files/columns.hpp"
#include "files/results_head.hpp"
#include "results/criterion.hpp"

namespace boxroom {
std::string set_ranking_hdf5(const SetRanking& ranking, const Provenance& from) {
    Hdf5Writer file;
    write_provenance(file, "ranking of sets", from);
    write_ranked_box(file, ranking.box_volume, ranking.qtc, ranking.outer);

    const hsize_t n = ranking.sets.size(), k = ranking.subs;
    std::vector<double> positions, footprints, gain, delay, wins, volumes;
    std::vector<int> rank, polarity;
    for (const RankedSet& set : ranking.sets) {
        rank.push_back(set.rank);
        for (const Point& p : set.positions) positions.insert(positions.end(), {p.x, p.y, p.z});
        const Point& first = set.footprints.front();
        footprints.insert(footprints.end(), {first.x, first.y, first.z});
        for (const Dial& s : set.settings) {
            gain.push_back(s.gain_db);
            delay.push_back(s.delay);
            polarity.push_back(s.polarity);
        }
        volumes.insert(volumes.end(), set.volumes.begin(), set.volumes.end());
        wins.push_back(set.robustness.known ? set.robustness.share_of_wins : unknown);
    }
    file.integers("/spots/rank", rank, {n}, {"1", "place in the ranking, 1 is best"});
    file.numbers("/spots/position", positions, {n, k, 3}, {"m", "acoustic centres, one a sub"});
    file.numbers("/spots/footprint", footprints, {n, 3}, {"m", "centre of the first box"});
    file.numbers("/spots/gain", gain, {n, k}, {"dB", "gain set on each sub"});
    file.numbers("/spots/delay", delay, {n, k}, {"s", "delay set on each sub"});
    file.integers("/spots/polarity", polarity, {n, k}, {"1", "polarity of each sub, 1 or -1"});
    if (!volumes.empty())
        file.numbers("/spots/box_volume", volumes, {n, k}, {"m3", "net volume of each box"});
    file.numbers("/spots/share_of_wins", wins, {n},
                 {"1", "share of the draws of uncertain inputs won; NaN where not drawn"});
    for (const Criterion& c : criterion_table) {
        std::vector<double> before, after;
        for (const RankedSet& set : ranking.sets) {
            before.push_back(set.criteria.*c.member);
            after.push_back(set.equalised ? set.after.*c.member : unknown);
        }
        file.numbers(std::string("/spots/") + c.name, before, {n}, {c.unit, c.description});
        file.numbers(std::string("/spots/equalised/") + c.name, after, {n},
                     {c.unit, std::string(c.description) + ", equalised; NaN where it was not"});
    }
    file.text("/method", ranking.method, {"none", "how the sets were found"});
    file.text("/reason", ranking.reason, {"none", "how sure the choice is"});
    return file.take();
}

}  // namespace boxroom
