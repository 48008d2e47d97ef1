#include "app/recording_output.hpp"

#include <cmath>

#include "base/levels.hpp"
#include "files/csv.hpp"
#include "measured/measured_spots.hpp"
#include "room_file/recordings_of.hpp"

namespace boxroom {
namespace {

/// Frequency, and of each recording what was measured (moved by its constant) and predicted.
std::string measured_csv(const std::vector<BesidePrediction>& beside) {
    Csv csv;
    csv.field("frequency_hz");
    for (const BesidePrediction& one : beside) {
        csv.field(one.heard.recording.name + " measured_db");
        csv.field(one.heard.recording.name + " predicted_db");
    }
    csv.end_row();
    const auto& frequency = beside.front().heard.frequency;
    for (std::size_t f = 0; f < frequency.size(); ++f) {
        csv.number(frequency[f]);
        for (const auto& [heard, predicted, offset, apart] : beside) {
            csv.number(heard.trusted[f] ? heard.level_db[f] + offset : std::nan(""));
            csv.number(predicted[f]);
        }
        csv.end_row();
    }
    return csv.take();
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

void write_recordings(Answer& answer, Session& session,
                      const std::vector<BesidePrediction>& beside) {
    if (!beside.empty()) session.results.write("measured.csv", measured_csv(beside));
    add_recordings(answer, session, beside);
}

void add_measured_spots(Answer& answer, Session& session) {
    const auto heard = heard_recordings(session, session.scenario.acoustics.frequency);
    const auto spots = rank_measured_spots(heard, session.scenario);
    if (spots.empty()) return;
    add_measured_spots(answer, spots, session.request.units);
    answer.text += "What was measured leads. The model's ranking fills in between:\n\n";
}

}  // namespace boxroom
