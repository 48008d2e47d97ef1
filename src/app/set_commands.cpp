// rank with several subs.
#include <fmt/format.h>

#include "app/set_json.hpp"
#include "io/set_tables.hpp"
#include "io/tables.hpp"
#include "tuning/robustness.hpp"
#include "tuning/set_ranking.hpp"

namespace boxroom {

using Json = nlohmann::ordered_json;

namespace {

Json points_json(const std::vector<Point>& points) {
    Json list = Json::array();
    for (const Point& p : points) list.push_back({p.x, p.y, p.z});
    return list;
}

Json quantiles_json(const Quantiles& q) {
    return {q.low, q.middle, q.high};
}

const char* kind_name(EqFilter::Kind kind) {
    return kind == EqFilter::Kind::peaking     ? "peaking"
           : kind == EqFilter::Kind::low_shelf ? "low shelf"
                                               : "high shelf";
}

std::string setting_words(const SubSetting& s) {
    return fmt::format("{:+.1f} dB {:.1f} ms {}", s.gain_db + 0.0, s.delay * 1e3,
                       s.polarity > 0 ? '+' : '-');
}

}  // namespace

Json set_json(const RankedSet& set) {
    Json json = {{"rank", set.rank}, {"positions_m", points_json(set.positions)}};
    json["facings"] = set.facings;
    json["settings"] = Json::array();
    for (const SubSetting& s : set.settings)
        json["settings"].push_back(
            {{"gain_db", s.gain_db}, {"delay_ms", s.delay * 1e3}, {"polarity", s.polarity}});
    json.update(criteria_json(set.criteria));
    json["score"] = set.criteria.score;
    json["all_alike"] = criteria_json(set.plain);
    if (set.equalised) {
        json["equalised"] = criteria_json(set.after);
        json["equalised"]["filters"] = Json::array();
        for (const EqFilter& f : set.equaliser)
            json["equalised"]["filters"].push_back({{"type", kind_name(f.kind)},
                                                    {"frequency_hz", f.frequency},
                                                    {"gain_db", f.gain_db},
                                                    {"q", f.q}});
    }
    if (set.robustness.known) {
        const Robustness& r = set.robustness;
        json["share_of_wins"] = r.share_of_wins;
        json["range_10_50_90"] = {{"spread_db", quantiles_json(r.spread_db)},
                                  {"unevenness_db", quantiles_json(r.unevenness_db)},
                                  {"balance_db", quantiles_json(r.balance_db)},
                                  {"level_db", quantiles_json(r.level_db)},
                                  {"reach_hz", quantiles_json(r.reach_hz)}};
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
    std::string text = fmt::format(
        "{} sub{}: {}\nrank  spread unevenness balance  level  reach  score   wins  equalised: "
        "unevenness\n",
        ranking.subs, ranking.subs > 1 ? "s" : "", ranking.method);
    for (std::size_t n = 0; n < ranking.sets.size() && n < 5; ++n) {
        const RankedSet& set = ranking.sets[n];
        const Criteria& c = set.criteria;
        text += fmt::format(
            "{:>4}{:8.1f}{:11.1f}{:8.1f}{:7.1f}{:7.0f}{:7.2f}{:>7}{:11.1f} dB\n", set.rank,
            c.spread_db, c.unevenness_db, c.balance_db, c.level_db, c.reach_hz, c.score,
            set.robustness.known ? fmt::format("{:.0f} %", 100 * set.robustness.share_of_wins)
                                 : "-",
            set.after.unevenness_db);
        for (std::size_t k = 0; k < set.settings.size(); ++k)
            text +=
                fmt::format("      {:>10} from the left, {:>10} from the front, facing {:<6} {}\n",
                            format_length(set.footprints[k].x, units),
                            format_length(set.footprints[k].y, units), set.facings[k],
                            setting_words(set.settings[k]));
    }
    return text + ranking.reason + "\n";
}

std::vector<SetRanking> rank_counts(Session& session, const ClosedBox& box,
                                    const std::vector<int>& counts) {
    std::vector<SetRanking> rankings;
    SetRanker ranker(session.scenario, session.driver, box, session.timings);
    for (const int subs : counts) {
        session.say(fmt::format("{} sub{}: searching", subs, subs > 1 ? "s" : ""),
                    0.2 + 0.4 * rankings.size() / counts.size());
        rankings.push_back(ranker.rank(subs));
    }
    session.say("drawing uncertain inputs", 0.6);
    std::vector<SetRanking*> all;
    for (SetRanking& ranking : rankings) all.push_back(&ranking);
    judge_robustness(session.scenario, box.volume, all, 10, session.timings);
    return rankings;
}

void write_sets(Session& session, const SetRanking& ranking) {
    const double start = seconds_now();
    write_set_ranking(session.folder() / "rank.h5", ranking, session.provenance());
    write_whole(session.folder() / "rank.csv", sets_csv(ranking));
    const RankedSet& best = ranking.sets[ranking.choice];
    write_whole(session.folder() / "equaliser.csv", equaliser_csv(best.equaliser));
    write_whole(session.folder() / "equaliser.json", equaliser_json(best.equaliser));
    session.timings["write"] += seconds_now() - start;
}

Answer run_rank_sets(Session& session, const std::vector<int>& counts) {
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    const auto rankings = rank_counts(session, box, counts);
    write_sets(session, rankings.back());
    Answer answer;
    answer.json["box"] = {{"volume_l", box.volume * 1e3}, {"qtc", box.qtc}};
    answer.json.update(ranking_json(rankings.back()));
    if (rankings.size() > 1) {
        answer.json["by_subs"] = Json::array();
        for (const SetRanking& ranking : rankings)
            answer.json["by_subs"].push_back(ranking_json(ranking));
    }
    answer.text = fmt::format("box {} (Qtc {:.2f}), {} of it\n",
                              format_volume(box.volume, session.request.units), box.qtc,
                              fmt::join(counts, ", "));
    for (const SetRanking& ranking : rankings)
        answer.text += ranking_text(ranking, session.request.units);
    answer.text += "Equaliser and tables in " + session.folder().string() + "\n";
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
