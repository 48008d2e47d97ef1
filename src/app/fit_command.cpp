// fit: recordings correct the room.
#include <cmath>

#include "answers/fit_answer.hpp"
#include "app/measured_commands.hpp"
#include "app/recording_output.hpp"
#include "files/csv.hpp"
#include "files/fit_file.hpp"
#include "room_file/fitted_room_file.hpp"
#include "room_file/recordings_of.hpp"

namespace boxroom {
namespace {

std::string fit_csv(const RoomFit& fit, const std::vector<HeardCurve>& heard) {
    Csv csv;
    csv.field("frequency_hz");
    for (const HeardCurve& curve : heard)
        for (const char* what : {"measured", "before", "after", "doubt"})
            csv.field(curve.recording.name + " " + what + "_db");
    csv.end_row();
    for (std::size_t f = 0; f < heard.front().frequency.size(); ++f) {
        csv.number(heard.front().frequency[f]);
        for (std::size_t r = 0; r < heard.size(); ++r) {
            csv.number(heard[r].trusted[f] ? heard[r].level_db[f] : std::nan(""));
            csv.number(fit.before_db[r][f]);
            csv.number(fit.after_db[r][f]);
            csv.number(fit.doubt_db[r][f]);
        }
        csv.end_row();
    }
    return csv.take();
}

}  // namespace

Answer run_fit(const Request& request) {
    Session session(request);
    session.results.expect({"fitted.toml", "fit.h5", "fit.csv", "fit.html"});
    require_memory_for_fit(session);
    const Recordings recordings = recordings_of(session.scenario, request.file);
    require_nameable(recordings, session.folder());
    const double start = seconds_now();
    auto heard = heard_recordings(session, fit_grid(session.scenario));
    session.timings["read"] = seconds_now() - start;
    const Fitted fitted =
        find_fit(session, std::move(heard), recordings.microphone, session.folder(), true);

    session.results.write("fitted.toml", fitted.file);
    session.results.write("fit.h5", fit_hdf5(fitted.fit, fitted.heard, session.provenance()));
    session.results.write("fit.csv", fit_csv(fitted.fit, fitted.heard));
    session.results.write("fit.html", fit_html(session, fitted));
    Answer answer = fit_answer(session, fitted);
    answer.json["fitted"] = (session.folder() / "fitted.toml").string();
    answer.text += "Results in " + session.folder().string() + "; plan on with " +
                   (session.folder() / "fitted.toml").string() + "\n";
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
