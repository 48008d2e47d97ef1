// build: the chosen box as something one can saw.
#include "answers/build_answer.hpp"
#include "answers/build_text.hpp"
#include "app/build_parts.hpp"
#include "app/drawing.hpp"
#include "app/planned_here.hpp"
#include "app/session.hpp"
#include "picture/box_drawing.hpp"
#include "placement/building.hpp"
#include "report/report_build.hpp"

namespace boxroom {

Answer run_build(const Request& request) {
    Session session(request);
    const DrawingAhead ahead;
    const BoxToSaw saw = box_to_saw(session, planned_here(session),
                                    "no plan of this file in " + session.folder().string());
    const double start = seconds_now();
    const BoxBuild build = build_box(session.scenario, session.driver, saw.box, request.units);
    session.timings["build"] = seconds_now() - start;
    Answer answer = build_answer(session, saw, build);
    write_build_files(session, build, true);
    answer.text += "\nCut list and drawings in " + session.folder().string() + "\n";
    session.finish(answer);
    return answer;
}

std::vector<std::string> write_build_files(Session& session, const BoxBuild& build, bool pictures) {
    std::vector<std::string> drawings;
    const double start = seconds_now();
    const Units units = session.request.units;
    session.results.write("cut_list.csv", cut_list_csv(build), sawing_set);
    for (const auto& [name, page] : build_drawings(build, units)) {
        drawings.push_back(drawing_svg(page));
        session.results.write(name + ".svg", drawings.back(), sawing_set);
        if (pictures) session.results.write(name + ".png", drawing().drawing_png(page), sawing_set);
    }
    session.timings["write"] += seconds_now() - start;
    return drawings;
}

std::string plan_build_section(Session& session, const Decision& decision) {
    session.results.replaces(sawing_set);  // drawings of another box would pass for this one's
    const auto build = build_of(session, decision);
    if (!build) return "";
    return build_html(*build, write_build_files(session, *build, false), session.request.units);
}

}  // namespace boxroom
