#include "app/recording_output.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/frequency_grid.hpp"
#include "base/levels.hpp"
#include "files/csv.hpp"
#include "measured/measured_spots.hpp"
#include "measured/predicted.hpp"
#include "room_file/recordings_of.hpp"

namespace boxroom {

namespace {

using Json = nlohmann::ordered_json;

/// Measured and predicted as far as they can be compared: both smoothed, the measured curve moved
/// by the best constant unless it is absolute.
struct Compared {
    std::vector<double> predicted;
    double offset = 0, apart = 0;
};

Compared compared(const HeardCurve& curve, const std::vector<double>& predicted, const Band& band) {
    constexpr double octaves = 1.0 / 12;
    const auto weight = log_mean_weights(curve.frequency, band);
    HeardCurve model = curve;
    model.level_db = predicted;
    model.trusted.assign(predicted.size(), 1);
    const HeardCurve measured = smoothed(curve, octaves);
    const std::vector<double> level = smoothed(std::move(model), octaves).level_db;
    Compared out{predicted, 0, 0};
    if (!curve.absolute) out.offset = best_offset(measured, level, weight);
    out.apart = apart_db(measured, level, weight, out.offset);
    return out;
}

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

Json recording_json(const HeardCurve& curve, const Compared& beside) {
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
    json["predicted_db"] = beside.predicted;
    json["offset_db"] = std::isfinite(beside.offset) ? Json(beside.offset) : Json();
    json["apart_db"] = std::isfinite(beside.apart) ? Json(beside.apart) : Json();
    return json;
}

/// Frequency, and of each recording what was measured (moved by its constant) and predicted.
std::string measured_csv(const std::vector<HeardCurve>& heard,
                         const std::vector<Compared>& beside) {
    Csv csv;
    csv.field("frequency_hz");
    for (const HeardCurve& curve : heard) {
        csv.field(curve.recording.name + " measured_db");
        csv.field(curve.recording.name + " predicted_db");
    }
    csv.end_row();
    for (std::size_t f = 0; f < heard.front().frequency.size(); ++f) {
        csv.number(heard.front().frequency[f]);
        for (std::size_t r = 0; r < heard.size(); ++r) {
            csv.number(heard[r].trusted[f] ? heard[r].level_db[f] + beside[r].offset
                                           : std::nan(""));
            csv.number(beside[r].predicted[f]);
        }
        csv.end_row();
    }
    return csv.take();
}

void add_spots(Answer& answer, const std::vector<MeasuredSpot>& spots, Units units) {
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

}  // namespace

std::vector<HeardCurve> heard_recordings(Session& session, std::span<const double> frequency) {
    const Recordings recordings = recordings_of(session.scenario, session.request.file);
    if (!recordings.all.empty()) session.inputs.add(recordings.microphone.calibration);
    std::vector<HeardCurve> heard;
    for (const Recording& recording : recordings.all) {
        session.inputs.add(recording.sound.empty() ? recording.curve : recording.sound);
        session.say("reading the recordings", 0.05);
        heard.push_back(heard_curve(recording, recordings.microphone, frequency));
        for (const std::string& note : heard.back().notes) session.warnings.push_back(note);
    }
    return heard;
}

void add_recordings(Answer& answer, Session& session, const ClosedBox& box,
                    const std::vector<HeardCurve>& heard) {
    if (heard.empty()) return;
    std::vector<Recording> recordings;
    for (const HeardCurve& curve : heard) recordings.push_back(curve.recording);
    const auto predicted = predicted_levels(session.scenario, session.driver, box, recordings);
    std::vector<Compared> beside;
    answer.json["recordings"] = Json::array();
    answer.text += "\nMeasured against predicted, 1/12 octave over the target band:\n";
    for (std::size_t r = 0; r < heard.size(); ++r) {
        beside.push_back(compared(heard[r], predicted[r], session.scenario.judgement.target.band));
        answer.json["recordings"].push_back(recording_json(heard[r], beside.back()));
        answer.text += std::isfinite(beside.back().apart)
                           ? fmt::format("  {:.1f} dB apart  {}\n", beside.back().apart,
                                         place_of(heard[r].recording, session.request.units))
                           : fmt::format("  not in band     {}\n",
                                         place_of(heard[r].recording, session.request.units));
    }
    session.results.write("measured.csv", measured_csv(heard, beside));
    add_spots(answer, rank_measured_spots(heard, session.scenario), session.request.units);
}

}  // namespace boxroom
