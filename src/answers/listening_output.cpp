#include "answers/listening_output.hpp"

#include <fmt/format.h>

#include "answers/criteria_output.hpp"

namespace boxroom {

using Json = nlohmann::ordered_json;

void add_loudest(Json& json, const Listening& heard) {
    if (heard.max_level_db.empty()) return;
    json["max_level_db"] = heard.max_level_db;
    json["half_space_max_level_db"] = heard.half_space_max_level_db;
    json["limited_by"] = heard.limited_by;
}

Json listening_json(const Listening& heard) {
    Json json;
    json["frequency_hz"] = heard.frequency;
    json["seats"] = Json::array();
    for (std::size_t s = 0; s < heard.seats.size(); ++s)
        json["seats"].push_back({{"name", heard.seats[s].name},
                                 {"level_db", heard.level_db.over_frequency(s)},
                                 {"phase_deg", heard.phase_deg.over_frequency(s)}});
    json["seat_average_db"] = heard.seat_average_db;
    json["half_space_db"] = heard.half_space_db;
    json["lift_db"] = heard.lift_db;
    add_loudest(json, heard);
    json.update(criteria_json(heard.criteria));
    if (!heard.cone_load_db.empty()) json["cone_load_db"] = heard.cone_load_db.values();
    return json;
}

std::string listening_text(const Listening& heard, const ClosedBox& box, Units units) {
    return fmt::format(
        "box {} (Qtc {:.2f}), {} sub(s), {} seat(s)\n{}", format_volume(box.volume, units), box.qtc,
        heard.subs.size(), heard.seats.size(),
        criteria_lines(heard.criteria, heard.absolute ? " re 20 uPa at 2.83 V"
                                                      : " re the passband at 1 m in half space"));
}

void warn_of_unknown_limits(Inquiry& inquiry) {
    for (const std::string& text :
         unknown_limits(inquiry.driver, inquiry.scenario.design.amplifier))
        inquiry.warnings.push_back(text);
}

}  // namespace boxroom
