// What a ranking of sets leaves behind: rank.csv, rank.h5, and the equaliser's coefficients.
//
// rank.h5 for several subs (N sets of K): as without, plus
//   /spots/gain /delay          double (N,K)    dB, s
//   /spots/polarity             int    (N,K)    1        1 or -1
//   /spots/box_volume           double (N,K)    m3       where [search] volumes mixes boxes
//   /spots/share_of_wins        double (N)      1        NaN where not drawn
//   /spots/equalised/*          double (N)      as the criteria; NaN where not equalised
//   /method /reason             text ()
#include "files/set_tables.hpp"

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "files/csv.hpp"
#include "files/results_head.hpp"
#include "results/criterion.hpp"
#include "tuning/biquad.hpp"

namespace boxroom {
namespace {

const char* const convention =
    "a0 = 1; y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2]. "
    "A processor that adds a1 and a2 wants them with the other sign.";

constexpr double rates[] = {48e3, 96e3};
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

}  // namespace

std::string sets_csv(const SetRanking& ranking) {
    Csv csv;
    csv.field("rank");
    for (int k = 1; k <= ranking.subs; ++k)
        for (const char* name :
             {"x{}_m", "y{}_m", "z{}_m", "facing{}", "gain{}_db", "delay{}_ms", "polarity{}"})
            csv.field(fmt::format(fmt::runtime(name), k));
    const bool mixed = !ranking.sets.empty() && !ranking.sets[0].volumes.empty();
    for (int k = 1; mixed && k <= ranking.subs; ++k) csv.field(fmt::format("volume{}_l", k));
    for (const Criterion& c : criterion_table) csv.field(c.key);
    for (const Criterion& c : criterion_table) csv.field(std::string("equalised_") + c.key);
    csv.field("share_of_wins");
    csv.end_row();
    for (const RankedSet& set : ranking.sets) {
        csv.field(std::to_string(set.rank));
        for (int k = 0; k < ranking.subs; ++k) {
            for (const double v : {set.positions[k].x, set.positions[k].y, set.positions[k].z})
                csv.number(v);
            csv.field(facing_name(set.facings[k]));
            const Dial& dial = set.settings[k];
            csv.number(dial.gain_db);
            csv.number(dial.delay * 1e3);
            csv.field(std::to_string(dial.polarity));
        }
        for (const double volume : set.volumes) csv.number(volume * 1e3);
        for (const Criterion& c : criterion_table) csv.number(set.criteria.*c.member);
        for (const Criterion& c : criterion_table)
            csv.number(set.equalised ? set.after.*c.member : unknown);
        csv.number(set.robustness.known ? set.robustness.share_of_wins : unknown);
        csv.end_row();
    }
    return csv.take();
}

std::string equaliser_csv(std::span<const EqFilter> filters) {
    Csv csv;
    for (const char* name : {"sample_rate_hz", "filter", "type", "frequency_hz", "gain_db", "q",
                             "b0", "b1", "b2", "a1", "a2"})
        csv.field(name);
    csv.end_row();
    for (const double rate : rates)
        for (std::size_t n = 0; n < filters.size(); ++n) {
            const EqFilter& f = filters[n];
            csv.number(rate);
            csv.field(std::to_string(n + 1));
            csv.field(filter_name(f.kind));
            for (const double v : {f.frequency, f.gain_db, f.q}) csv.number(v);
            const Biquad b = biquad(f, rate);
            // A filter in the bass is a small difference of large coefficients: all digits.
            for (const double v : {b.b0, b.b1, b.b2, b.a1, b.a2})
                csv.field(fmt::format("{:.17g}", v));
            csv.end_row();
        }
    return fmt::format("# {}\r\n", convention) + csv.take();
}

std::string equaliser_json(std::span<const EqFilter> filters) {
    nlohmann::ordered_json json = {{"convention", convention}};
    json["filters"] = nlohmann::ordered_json::array();
    for (const EqFilter& f : filters)
        json["filters"].push_back({{"type", filter_name(f.kind)},
                                   {"frequency_hz", f.frequency},
                                   {"gain_db", f.gain_db},
                                   {"q", f.q}});
    json["biquads"] = nlohmann::ordered_json::array();
    for (const double rate : rates) {
        nlohmann::ordered_json list = nlohmann::ordered_json::array();
        for (const EqFilter& f : filters) {
            const Biquad b = biquad(f, rate);
            list.push_back({{"b0", b.b0}, {"b1", b.b1}, {"b2", b.b2}, {"a1", b.a1}, {"a2", b.a2}});
        }
        json["biquads"].push_back({{"sample_rate_hz", rate}, {"sections", list}});
    }
    return json.dump(1) + "\n";
}

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
