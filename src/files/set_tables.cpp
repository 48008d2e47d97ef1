// What a ranking of sets leaves behind as text: rank.csv and the equaliser's coefficients.
#include "files/set_tables.hpp"

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "files/columns.hpp"
#include "files/csv.hpp"
#include "results/criterion.hpp"
#include "tuning/biquad.hpp"

namespace boxroom {
namespace {

const char* const convention =
    "a0 = 1; y[n] = b0 x[n] + b1 x[n-1] + b2 x[n-2] - a1 y[n-1] - a2 y[n-2]. "
    "A processor that adds a1 and a2 wants them with the other sign.";

constexpr double rates[] = {48e3, 96e3};

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

}  // namespace boxroom
