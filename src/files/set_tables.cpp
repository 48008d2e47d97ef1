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

#include "files/hdf5_writer.hpp"
#include "results/criterion.hpp"
#include "tuning/biquad.hpp"

namespace boxroom {
namespace {

const char* const convention =
    "a0 = 1; y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2]. "
    "A processor that adds a1 and a2 wants them with the other sign.";

constexpr double rates[] = {48e3, 96e3};

}  // namespace

const char* filter_name(EqFilter::Kind kind) {
    return kind == EqFilter::Kind::peaking     ? "peaking"
           : kind == EqFilter::Kind::low_shelf ? "low shelf"
                                               : "high shelf";
}

std::string sets_csv(const SetRanking& ranking) {
    std::string text = "rank";
    for (int k = 1; k <= ranking.subs; ++k)
        text +=
            fmt::format(",x{0}_m,y{0}_m,z{0}_m,facing{0},gain{0}_db,delay{0}_ms,polarity{0}", k);
    const bool mixed = !ranking.sets.empty() && !ranking.sets[0].volumes.empty();
    for (int k = 1; mixed && k <= ranking.subs; ++k) text += fmt::format(",volume{}_l", k);
    for (const Criterion& c : criterion_table) text += fmt::format(",{}", c.key);
    for (const Criterion& c : criterion_table) text += fmt::format(",equalised_{}", c.key);
    text += ",share_of_wins\r\n";
    for (const RankedSet& set : ranking.sets) {
        text += std::to_string(set.rank);
        for (int k = 0; k < ranking.subs; ++k) {
            const Point& p = set.positions[k];
            const Dial& s = set.settings[k];
            text += fmt::format(",{:.6g},{:.6g},{:.6g},{},{:.6g},{:.6g},{}", p.x, p.y, p.z,
                                facing_name(set.facings[k]), s.gain_db, s.delay * 1e3, s.polarity);
        }
        for (const double volume : set.volumes) text += fmt::format(",{:.6g}", volume * 1e3);
        for (const Criterion& c : criterion_table)
            text += fmt::format(",{:.6g}", set.criteria.*c.member);
        for (const Criterion& c : criterion_table)
            text += set.equalised ? fmt::format(",{:.6g}", set.after.*c.member) : ",";
        text += set.robustness.known ? fmt::format(",{:.6g}\r\n", set.robustness.share_of_wins)
                                     : ",\r\n";
    }
    return text;
}

std::string equaliser_csv(std::span<const EqFilter> filters) {
    std::string text = fmt::format("# {}\r\n", convention);
    text += "sample_rate_hz,filter,type,frequency_hz,gain_db,q,b0,b1,b2,a1,a2\r\n";
    for (const double rate : rates)
        for (std::size_t n = 0; n < filters.size(); ++n) {
            const EqFilter& f = filters[n];
            const Biquad b = biquad(f, rate);
            text += fmt::format(
                "{:.0f},{},{},{:.6g},{:.6g},{:.6g},{:.17g},{:.17g},{:.17g},{:.17g},"
                "{:.17g}\r\n",
                rate, n + 1, filter_name(f.kind), f.frequency, f.gain_db, f.q, b.b0, b.b1, b.b2,
                b.a1, b.a2);
        }
    return text;
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
    file.attribute("/", "program", std::string("boxroom"));
    file.attribute("/", "kind", std::string("ranking of sets"));
    file.attribute("/", "version", from.version);
    file.attribute("/", "solver", from.solver);
    file.attribute("/", "input", from.input_text);
    file.number("/box/volume", ranking.box_volume, {"m3", "net volume"});
    file.number("/box/qtc", ranking.qtc, {"1", "total Q in the box"});
    const std::vector<double> size{ranking.outer.width, ranking.outer.depth, ranking.outer.height};
    file.numbers("/box/outer_size", size, {3}, {"m", "outer width, depth and height"});

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
        wins.push_back(set.robustness.known ? set.robustness.share_of_wins
                                            : std::numeric_limits<double>::quiet_NaN());
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
            after.push_back(set.equalised ? set.after.*c.member
                                          : std::numeric_limits<double>::quiet_NaN());
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
