// The decision in the document; the subs of a file by box and cone.
#include "answers/decision_output.hpp"

#include <fmt/format.h>

#include "answers/criteria_output.hpp"
#include "placement/room_states.hpp"
#include "placement/standing.hpp"
#include "tuning/biquad.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

Json subs_json(const std::vector<DecidedSub>& subs) {
    Json all = Json::array();
    for (const DecidedSub& sub : subs)
        all.push_back({{"name", sub.name},
                       {"driver", sub.driver},
                       {"volume_l", sub.volume * 1e3},
                       {"qtc", sub.qtc},
                       {"footprint_m", {sub.footprint.x, sub.footprint.y}},
                       {"cone_m", {sub.cone.x, sub.cone.y, sub.cone.z}},
                       {"facing", facing_name(sub.facing)},
                       {"gain_db", sub.dial.gain_db + 0.0},
                       {"delay_ms", sub.dial.delay * 1e3},
                       {"polarity", sub.dial.polarity}});
    return all;
}

Json loudest_json(const Loudest& loudest) {
    return {{"level_db", loudest.level_db},
            {"limited_at_hz", loudest.at_hz},
            {"limited_by", loudest.limited_by}};
}

Json alternative_json(const Alternative& other) {
    Json json{{"what", other.what}, {"subs", subs_json(other.subs)}};
    json.update(criteria_json(other.criteria));
    json["equalised"] = criteria_json(other.equalised);
    if (other.loudest.known()) json["loudest"] = loudest_json(other.loudest);
    json["cost"] = other.cost;
    return json;
}

}  // namespace

Json filters_json(std::span<const EqFilter> filters) {
    Json all = Json::array();
    for (const EqFilter& f : filters)
        all.push_back({{"type", filter_name(f.kind)},
                       {"frequency_hz", f.frequency},
                       {"gain_db", f.gain_db},
                       {"q", f.q}});
    return all;
}

Json states_json(const DayStates& states) {
    if (states.criteria.empty()) return Json::object();
    Json json{{"states", Json::array()}, {"worse_state", state_name(states.worse)}};
    for (std::size_t s = 0; s < states.criteria.size(); ++s) {
        json["states"].push_back({{"state", state_name(s)}});
        json["states"].back().update(criteria_json(states.criteria[s]));
    }
    return json;
}

Json decision_json(const Decision& decision) {
    Json json{{"subs", subs_json(decision.subs)}};
    json.update(criteria_json(decision.heard.criteria));
    json["equalised"] = criteria_json(decision.equalised);
    json["equalised"]["filters"] = filters_json(decision.equaliser);
    json["equalised"]["seat_average_db"] = decision.equalised_db;
    if (decision.loudest.known()) json["plays"] = loudest_json(decision.loudest);
    if (decision.watts > 0) json["watts"] = decision.watts;
    if (const Robustness& r = decision.robustness; r.known)
        for (const Criterion& c : criterion_table)
            if (c.shown != Shown::in_rankings)
                json["range_10_50_90"][c.key] = {r.low.*c.member, r.middle.*c.member,
                                                 r.high.*c.member};
    json.update(states_json(decision.states));
    json["alternatives"] = Json::array();
    for (const Alternative& other : decision.alternatives)
        json["alternatives"].push_back(alternative_json(other));
    return json;
}

void add_drivers(Answer& answer, const DriverTable& table, Units units) {
    if (table.rows.empty()) return;
    answer.text +=
        "\nDrivers (* is what was decided): " + table.why +
        "\n  box         Qtc   off balance  plays clean  reach   weight  price  driver\n";
    for (std::size_t n = 0; n < table.rows.size(); ++n) {
        const DriverRow& row = table.rows[n];
        const bool chosen = static_cast<int>(n) == table.chosen;
        Json json{{"name", row.name}, {"chosen", chosen}};
        if (!row.trouble.empty()) {
            json["trouble"] = row.trouble;
            answer.text += fmt::format("  {}: {}\n", row.name, row.trouble);
            answer.json["drivers"].push_back(json);
            continue;
        }
        json.update({{"volume_l", row.box.volume * 1e3},
                     {"qtc", row.box.qtc},
                     {"balance_db", row.box.in_room_balance_db},
                     {"reach_hz", row.reach_hz},
                     {"weight_kg", row.box.weight}});
        if (!row.box.limited_by.empty()) json["level_db"] = row.box.loudest_db;
        if (row.price) json["price"] = *row.price;
        answer.json["drivers"].push_back(json);
        answer.text += fmt::format(
            "{} {:<10} {:4.2f} {:>10} dB {:>12} {:>6} {:>5.0f} kg {:>6}  {}\n", chosen ? '*' : ' ',
            format_volume(row.box.volume, units), row.box.qtc,
            fmt::format("{:.1f}", row.box.in_room_balance_db),
            row.box.limited_by.empty() ? "unknown" : fmt::format("{:.0f} dB", row.box.loudest_db),
            fmt::format("{:.0f} Hz", row.reach_hz), row.box.weight,
            row.price ? fmt::format("{:g}", *row.price) : "-", row.name);
    }
    answer.json["driver_reason"] = table.why;
}

nlohmann::ordered_json standing_json(const Scenario& scenario, const ClosedBox& box) {
    const Driver driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
    std::vector<DecidedSub> subs;
    for (std::size_t n = 0; n < scenario.placed.subs.size(); ++n) {
        const PlacedSub& sub = scenario.placed.subs[n];
        const BoxStanding at = standing_in_file(scenario, n, box.volume);
        const double volume = sub.volume > 0 ? sub.volume : box.volume;
        subs.push_back({sub.name, scenario.design.name, volume,
                        closed_box(driver, volume, scenario.design.filling).qtc, at.sides,
                        at.footprint, at.cone, at.facing, sub.dial});
    }
    return subs_json(subs);
}

std::string standing_text(const Scenario& scenario, const ClosedBox& box, Units units) {
    std::string text;
    for (std::size_t n = 0; n < scenario.placed.subs.size(); ++n) {
        const PlacedSub& sub = scenario.placed.subs[n];
        const BoxPlace given = place_of(scenario, n);
        const BoxStanding at = standing_in_file(scenario, n, box.volume);
        const auto place = [&](const Point& p) {
            return format_length(p.x, units) + ", " + format_length(p.y, units);
        };
        text +=
            fmt::format("{}: centre of the box {}{}; middle of the cone {}, {} high{}; facing {}\n",
                        sub.name, place(at.footprint), given.footprint ? " (given)" : "",
                        place(at.cone), format_length(at.cone.z, units),
                        given.footprint ? "" : " (given)", facing_name(at.facing));
    }
    return text;
}

}  // namespace boxroom
