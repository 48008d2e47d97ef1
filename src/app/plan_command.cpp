// plan: boxes x spots, the recommendation and the report.
#include <fmt/format.h>

#include <optional>

#include "answers/crossing_output.hpp"
#include "answers/plan_answer.hpp"
#include "answers/set_output.hpp"
#include "app/build_parts.hpp"
#include "app/drawing.hpp"
#include "app/floor_pictures.hpp"
#include "app/page_engine.hpp"
#include "app/recording_output.hpp"
#include "app/set_files.hpp"
#include "files/crossing_tables.hpp"
#include "files/results_file.hpp"
#include "files/tables.hpp"
#include "report/recording_charts.hpp"
#include "report/report.hpp"
#include "report/setup_card.hpp"

namespace boxroom {
namespace {

void write_files(Session& session, const Planned& planned) {
    const Plan& plan = planned.plan();
    const double start = seconds_now();
    session.results.write("planned.toml", planned.file);
    session.results.write("plan.h5", plan_hdf5(plan, planned.words, session.provenance()));
    session.results.write("plan.csv", plan_csv(plan));
    session.results.write("curves.csv", curves_csv(plan.at_build));
    write_subs(session, planned.decided.subs);
    const std::string build_section = plan_build_section(session, planned.decision());
    const std::string engine = page_engine();
    const ReportInput input = report_input(session, planned, build_section, engine);
    session.results.write("report.html", html_report(input));
    session.results.write("setup.html", setup_card(input));
    if (planned.crossing)
        session.results.write("crossover.csv",
                              crossing_csv(*planned.crossing, session.scenario.seats));
    session.timings["write"] += seconds_now() - start;
}

}  // namespace

Answer run_plan(const Request& request) {
    Session session(request);
    const DrawingAhead ahead;
    session.results.expect(
        {"planned.toml", "plan.h5", "plan.csv", "curves.csv", "report.html", "setup.html"});
    require_memory_for_plan(session);
    // Before anything takes time: a recording that cannot be read ends it.
    const auto recorded = heard_recordings(session, session.scenario.acoustics.frequency);
    std::optional<FloorPictures> pictures;  // drawn while the rest is worked out and written
    Planned planned =
        find_plan(session, [&](const Plan& plan) { pictures.emplace(plan.maps, request.units); });
    if (!recorded.empty())
        planned.beside = beside_predictions(
            session, chosen_box(session.scenario, session.driver, session.warnings), recorded);
    write_files(session, planned);
    pictures->write(session);

    const std::string report = (session.folder() / "report.html").string();
    const std::string file = (session.folder() / "planned.toml").string();
    Answer answer =
        plan_answer(session, planned,
                    fmt::format("Report: {}\nTo hear or see it: boxroom listen {}\n"
                                "To saw it: boxroom build {}\nTo set it up: {}\n",
                                report, file, file, (session.folder() / "setup.html").string()));
    answer.json["report"] = report;
    answer.json["planned"] = file;
    write_recordings(answer, session, planned.beside);
    if (const std::string far =
            recordings_words(planned.beside, session.scenario.judgement.target.band);
        !far.empty())
        answer.text += far + "\n";
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
