// What listen and plan say about subs and main loudspeakers together.
#include "answers/crossing_output.hpp"

#include "answers/criteria_output.hpp"

namespace boxroom {

using Json = nlohmann::ordered_json;

namespace {

Json agreement_json(const Agreement& a) {
    return {{"subs_delay_ms", a.subs.delay * 1e3 + 0.0},
            {"subs_polarity", a.subs.polarity},
            {"loss_db", a.loss_db}};
}

}  // namespace

bool has_crossing(const Scenario& scenario) {
    return scenario.placed.crossover || !scenario.placed.mains.empty();
}

void add_crossing(Answer& answer, const Crossing& c, const std::vector<Seat>& seats) {
    Json json = Json::object();
    if (c.filtered) json = {{"frequency_hz", c.frequency}, {"type", c.type}, {"order", c.order}};
    json["mains"] = c.mains;
    json["subs_average_db"] = c.subs_db;
    if (!c.mains_db.empty()) json["mains_average_db"] = c.mains_db;
    json["sum_average_db"] = c.sum_db;
    json["seats"] = Json::array();
    for (std::size_t s = 0; s < seats.size(); ++s)
        json["seats"].push_back(
            {{"name", seats[s].name}, {"level_db", c.level_db.over_frequency(s)}});
    json["criteria"] = criteria_json(c.criteria);
    if (c.judged) {
        json["agreement"] = {{"as_set", agreement_json(c.as_set)},
                             {"best", agreement_json(c.best)},
                             {"advice", c.advice}};
    }
    answer.json["crossover"] = json;
    answer.text += (c.mains.empty() ? "through the low-pass: " : "with the main loudspeakers: ") +
                   criteria_words(c.criteria) + "\n";
    if (c.judged) answer.text += c.advice + "\n";
}

}  // namespace boxroom
