#include "answers/recordings_answer.hpp"

#include <fmt/format.h>

#include <cmath>

#include "answers/criteria_output.hpp"
#include "measured/predicted.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

std::string place_of(const Recording& recording, Units units) {
    if (recording.box_on_seat)
        return fmt::format("box on {}, microphone {} from left, {} from front",
                           *recording.box_on_seat, format_length(recording.at.x, units),
                           format_length(recording.at.y, units));
    const std::string from = recording.sub ? ", " + *recording.sub : ", all subs";
    if (recording.seat) return *recording.seat + from;
    return fmt::format("{} from left, {} from front{}", format_length(recording.at.x, units),
                       format_length(recording.at.y, units), from);
}

Json recording_json(const BesidePrediction& beside) {
    const HeardCurve& curve = beside.heard;
    const Recording& recording = curve.recording;
    Json json = {{"name", recording.name}};
    if (recording.seat) json["seat"] = *recording.seat;
    if (recording.sub) json["sub"] = *recording.sub;
    if (recording.box_on_seat) json["box_on_seat"] = *recording.box_on_seat;
    json["at_m"] = {recording.at.x, recording.at.y, recording.at.z};
    for (const char* key : {"level_db", "doubt_db"}) json[key] = Json::array();
    for (std::size_t f = 0; f < curve.frequency.size(); ++f) {
        json["level_db"].push_back(curve.trusted[f] ? Json(curve.level_db[f]) : Json());
        json["doubt_db"].push_back(curve.trusted[f] ? Json(curve.doubt_db[f]) : Json());
    }
    json["predicted_db"] = beside.predicted_db;
    json["offset_db"] = std::isfinite(beside.offset_db) ? Json(beside.offset_db) : Json();
    json["apart_db"] = std::isfinite(beside.apart_db) ? Json(beside.apart_db) : Json();
    return json;
}

}  // namespace

std::vector<BesidePrediction> beside_predictions(const Inquiry& inquiry, const ClosedBox& box,
                                                 const std::vector<HeardCurve>& heard) {
    std::vector<Recording> recordings;
    for (const HeardCurve& curve : heard) recordings.push_back(curve.recording);
    if (heard.empty()) return {};
    auto predicted =
        levels_of(predicted_pressures(inquiry.scenario, inquiry.driver, box, recordings));
    std::vector<BesidePrediction> out;
    for (std::size_t r = 0; r < heard.size(); ++r)
        out.push_back(beside_prediction(heard[r], std::move(predicted[r]),
                                        inquiry.scenario.judgement.target.band));
    return out;
}

void add_recordings(Answer& answer, const Inquiry& inquiry,
                    const std::vector<BesidePrediction>& beside) {
    if (beside.empty()) return;
    answer.json["recordings"] = Json::array();
    answer.text += "\nMeasured against predicted, 1/12 octave over the target band:\n";
    std::vector<HeardCurve> heard;
    for (const BesidePrediction& one : beside) {
        answer.json["recordings"].push_back(recording_json(one));
        const std::string place = place_of(one.heard.recording, inquiry.wishes.units);
        answer.text += std::isfinite(one.apart_db)
                           ? fmt::format("  {:.1f} dB apart  {}\n", one.apart_db, place)
                           : fmt::format("  not in band     {}\n", place);
        heard.push_back(one.heard);
    }
    add_measured_spots(answer, rank_measured_spots(heard, inquiry.scenario), inquiry.wishes.units);
}

void add_measured_spots(Answer& answer, const std::vector<MeasuredSpot>& spots, Units units) {
    if (spots.empty()) return;
    answer.json["measured_spots"] = Json::array();
    answer.text +=
        "\nSpots ranked by measurement alone (box on the seats, microphone at the spot):\n";
    for (std::size_t i = 0; i < spots.size(); ++i) {
        const MeasuredSpot& spot = spots[i];
        Json json = {{"rank", i + 1},
                     {"position_m", {spot.at.x, spot.at.y, spot.at.z}},
                     {"seats", spot.seats}};
        json.update(criteria_json(spot.criteria, true));
        answer.json["measured_spots"].push_back(json);
        answer.text += fmt::format("{:>4}  {} from left, {} from front: {}\n", i + 1,
                                   format_length(spot.at.x, units), format_length(spot.at.y, units),
                                   criteria_words(spot.criteria));
    }
}

}  // namespace boxroom
