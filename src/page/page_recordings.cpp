#include "page/page_recordings.hpp"

#include "answers/fit_answer.hpp"
#include "base/error.hpp"
#include "measured/heard_table.hpp"
#include "report/chart_picture.hpp"
#include "report/fit_page.hpp"
#include "room_file/recordings_of.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

/// The recordings that came, on the fit's frequencies.
std::vector<HeardCurve> heard_for_fit(PageInquiry& inquiry, const Json& request) {
    auto heard = heard_tables(inquiry, request, fit_grid(inquiry.scenario));
    if (heard.empty())
        throw Error("the page", "no table of a level at a seat is here to correct the room by",
                    "drop one on the page");
    return heard;
}

}  // namespace

std::vector<HeardCurve> heard_tables(PageInquiry& inquiry, const Json& request,
                                     std::span<const double> frequency) {
    const Recordings recordings = recordings_of(inquiry.scenario, page_file);
    const Json files = request.value("files", Json::object());
    const auto read = [&](const std::filesystem::path& path) {
        const std::string name = path.filename().string();
        if (!files.contains(name))
            throw Error(name, "the room file names this table, and the page has not got it",
                        "drop it on the page as well");
        return files[name].get<std::string>();
    };
    std::vector<HeardCurve> heard;
    for (const Recording& recording : recordings.all) {
        if (!recording.sound.empty()) {
            inquiry.warnings.push_back(recording.name +
                                       ": the page shows curves (CSV); `boxroom listen` reads "
                                       "recorded sweeps");
        } else if (!files.contains(recording.curve.filename().string())) {
            inquiry.warnings.push_back(recording.name +
                                       " is not shown: drop that file on the page");
        } else {
            heard.push_back(heard_table(recording, recordings.microphone, frequency, read));
            for (const std::string& note : heard.back().notes) inquiry.warnings.push_back(note);
        }
    }
    return heard;
}

Json page_fit(PageInquiry& inquiry, const Json& request) {
    require_memory_for_fit(inquiry);
    auto heard = heard_for_fit(inquiry, request);
    const Microphone microphone = recordings_of(inquiry.scenario, page_file).microphone;
    const Fitted fitted = find_fit(inquiry, std::move(heard), microphone, {}, false);
    Json files{{"fitted.toml", fitted.file}, {"fit.html", fit_html(inquiry, fitted)}};
    for (std::size_t r = 0; r < fitted.heard.size(); ++r)
        files["fit_" + std::to_string(r + 1) + ".svg"] = chart_picture(
            fit_chart(fitted.fit, fitted.heard[r], r), request.value("narrow", false));
    Json out = closed_answer(inquiry, fit_answer(inquiry, fitted), std::move(files));
    out["words"] = fit_words(inquiry, fitted);
    out["misfits"] = fit_misfit_tables(fitted.fit);
    out["parameters"] = fit_parameter_table(fitted.fit);
    return out;
}

Json page_fit_time(PageInquiry& inquiry, const Json& request) {
    require_memory_for_fit(inquiry);
    auto heard = heard_for_fit(inquiry, request);
    Json out{{"status", 0}, {"seconds", nullptr}};
    if (inquiry.scenario.acoustics.room.is_rectangle())
        out["seconds"] = fit_seconds(inquiry, std::move(heard));
    return out;
}

}  // namespace boxroom
