// What rank and plan say of several subs.
#include "answers/set_output.hpp"

#include <fmt/format.h>

#include "answers/criteria_output.hpp"
#include "answers/decision_output.hpp"

namespace boxroom {

using Json = nlohmann::ordered_json;

namespace {

Json points_json(const std::vector<Point>& points) {
    Json list = Json::array();
    for (const Point& p : points) list.push_back({p.x, p.y, p.z});
    return list;
}

std::string setting_words(const Dial& s) {
    return fmt::format("gain {:.1f} dB, delay {:.1f} ms, polarity {}", s.gain_db + 0.0,
                       s.delay * 1e3, s.polarity > 0 ? "normal" : "reversed");
}

/// Where each box stands and what it is set to, a line each.
std::string setting_lines(const RankedSet& set, Units units) {
    std::string text;
    for (std::size_t k = 0; k < set.settings.size(); ++k)
        text += fmt::format(
            "      {:>10} from the left, {:>10} from the front, facing {:<6} {}{}\n",
            format_length(set.footprints[k].x, units), format_length(set.footprints[k].y, units),
            facing_name(set.facings[k]), setting_words(set.settings[k]),
            set.volumes.empty() ? "" : "  " + format_volume(set.volumes[k], units));
    return text;
}

}  // namespace

Json set_json(const RankedSet& set) {
    Json json = {{"rank", set.rank}, {"positions_m", points_json(set.positions)}};
    for (const Facing facing : set.facings) json["facings"].push_back(facing_name(facing));
    for (const double volume : set.volumes) json["volumes_l"].push_back(volume * 1e3);
    json["settings"] = Json::array();
    for (const Dial& s : set.settings)
        json["settings"].push_back(
            {{"gain_db", s.gain_db + 0.0}, {"delay_ms", s.delay * 1e3}, {"polarity", s.polarity}});
    json.update(criteria_json(set.criteria, true));
    json["all_alike"] = criteria_json(set.plain);
    if (set.equalised) {
        json["equalised"] = criteria_json(set.after);
        json["equalised"]["filters"] = filters_json(set.equaliser);
    }
    if (set.robustness.known) {
        const Robustness& r = set.robustness;
        json["share_of_wins"] = r.share_of_wins;
        for (const Criterion& c : criterion_table)
            if (c.shown != Shown::in_rankings)
                json["range_10_50_90"][c.key] = {r.low.*c.member, r.middle.*c.member,
                                                 r.high.*c.member};
    }
    return json;
}

Json ranking_json(const SetRanking& ranking) {
    Json json = {{"subs", ranking.subs}, {"proven", ranking.proven}, {"method", ranking.method}};
    json["spots"] = Json::array();
    for (const RankedSet& set : ranking.sets) json["spots"].push_back(set_json(set));
    json["front"] = Json::array();
    for (const RankedSet& set : ranking.front) json["front"].push_back(set_json(set));
    json["choice"] = ranking.choice + 1;
    if (ranking.tie >= 0) json["tie"] = ranking.tie + 1;
    json["reason"] = ranking.reason;
    return json;
}

std::string ranking_text(const SetRanking& ranking, Units units) {
    std::string text = fmt::format("{} sub{}: {}\nrank{}   wins  equalised: unevenness\n    {}\n",
                                   ranking.subs, ranking.subs > 1 ? "s" : "", ranking.method,
                                   criteria_names(), criteria_units());
    for (std::size_t n = 0; n < ranking.sets.size() && n < 5; ++n) {
        const RankedSet& set = ranking.sets[n];
        text += fmt::format("{:>4}{}{:>7}{:11.1f} dB\n", set.rank, criteria_cells(set.criteria),
                            set.robustness.known
                                ? fmt::format("{:.0f} %", 100 * set.robustness.share_of_wins)
                                : "-",
                            set.after.unevenness_db);
        text += setting_lines(set, units);
    }
    return text + ranking.reason + "\n";
}

namespace {

/// Row of a further box in the table on the terminal.
std::string option_line(const SubsOption& option, bool advised) {
    const RankedSet& set = option.chosen();
    const Criteria& c = set.criteria;
    const Robustness& r = set.robustness;
    return fmt::format(
        "{:>5}{}{:8.1f} {:>11}{:9.1f}{:12.1f}{:9.1f}{:>14}\n", option.subs(), advised ? '*' : ' ',
        c.spread_db,
        r.known ? fmt::format("{:.1f} to {:.1f}", r.low.spread_db, r.high.spread_db) : "-",
        c.unevenness_db, set.after.unevenness_db, c.level_db,
        option.loudest.known() ? fmt::format("{:.0f} dB", option.loudest.level_db) : "unknown");
}

Json option_json(const SubsOption& option) {
    Json json = ranking_json(option.ranking);
    json["chosen"] = set_json(option.chosen());
    json["seat_average_db"] = option.heard.seat_average_db;
    json["equaliser_db"] = option.equaliser_db;
    json["equalised_average_db"] = option.equalised_db;
    if (option.loudest.known()) {
        json["max_level_db"] = option.heard.max_level_db;
        json["half_space_max_level_db"] = option.heard.half_space_max_level_db;
        json["limited_by"] = option.heard.limited_by;
        json["loudest"] = {{"level_db", option.loudest.level_db},
                           {"limited_at_hz", option.loudest.at_hz},
                           {"limited_by", option.loudest.limited_by}};
    }
    if (option.smallest_volume > 0) json["smallest_volume_l"] = option.smallest_volume * 1e3;
    return json;
}

}  // namespace

std::vector<int> plan_counts(const Inquiry& inquiry) {
    std::vector<int> counts = inquiry.scenario.wanted.sub_counts;
    if (inquiry.wishes.subs > 0) {
        counts.clear();
        for (int n = 1; n <= inquiry.wishes.subs; ++n) counts.push_back(n);
    }
    return counts;
}

void add_subs(Answer& answer, const SubsPlan& plan) {
    answer.json["how_many"] = plan.how_many;
    const SubsOption& advised = plan.options[plan.advice];
    answer.json["advised_subs"] = advised.subs();
    answer.json["by_subs"] = Json::array();
    for (const SubsOption& option : plan.options)
        answer.json["by_subs"].push_back(option_json(option));
    answer.json["trade_off"] = Json::array();
    for (const TradeOff& one : plan.front) {
        answer.json["trade_off"].push_back({{"subs", one.subs}, {"chosen", one.chosen}});
        answer.json["trade_off"].back().update(set_json(one.set));
    }
    answer.text += "\nOther numbers of boxes (* is what was decided): " + plan.how_many +
                   "\nboxes   spread  10 to 90 % unevenness  equalised    level  plays clean\n"
                   "            dB          dB       dB          dB       dB   equalised\n";
    for (const SubsOption& option : plan.options)
        answer.text += option_line(option, &option == &advised);
}

}  // namespace boxroom
