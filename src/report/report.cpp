#include "report/report.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "placement/ringing.hpp"
#include "report/crossing_chart.hpp"
#include "report/floor_map_chart.hpp"
#include "report/html_text.hpp"
#include "report/live_page.hpp"
#include "report/page_document.hpp"
#include "report/page_frame.hpp"
#include "report/page_text.hpp"
#include "report/recording_charts.hpp"
#include "report/report_charts.hpp"
#include "report/report_subs.hpp"
#include "report/report_tables.hpp"
#include "report/ringing_chart.hpp"
#include "solvers/constructions.hpp"

namespace boxroom {
namespace {

/// A sentence of the plan; on a live page in both units.
std::string words(const ReportInput& in, std::string PlanWords::*sentence) {
    const std::string &text = in.words.*sentence, &other = in.live.other_words.*sentence;
    return in.units == Units::metric ? either_html(text, other, in) : either_html(other, text, in);
}

std::string list(const ReportInput& in, std::vector<std::string> PlanWords::*sentences) {
    std::string items;
    const auto& here = in.words.*sentences;
    const auto& there = in.live.other_words.*sentences;
    for (std::size_t n = 0; n < here.size(); ++n) {
        const std::string& other = n < there.size() ? there[n] : here[n];
        items += "<li>" +
                 (in.units == Units::metric ? either_html(here[n], other, in)
                                            : either_html(other, here[n], in)) +
                 "</li>";
    }
    return items.empty() ? "" : "<ul class=\"plain\">" + items + "</ul>";
}

std::string answer(const ReportInput& in) {
    std::string out = "<header>";
    if (!in.scenario.title.empty())
        out += "<p class=\"title\" dir=\"auto\">" + escape_html(in.scenario.title) + "</p>";
    return out + "<h1>" + words(in, &PlanWords::recommendation) + "</h1>" +
           list(in, &PlanWords::places) + "</header>\n";
}

/// The reasons of the answer.
std::string why(const ReportInput& in) {
    std::string out = "<dl class=\"why\">";
    const std::pair<const char*, std::string PlanWords::*> reasons[] = {
        {"Why there", &PlanWords::reason_spot},
        {"Why this box", &PlanWords::reason_box},
        {"How much it matters", &PlanWords::how_much},
        {"How loud", &PlanWords::reason_level},
        {"Open and shut", &PlanWords::days}};
    for (const auto& [name, sentence] : reasons)
        if (!(in.words.*sentence).empty())
            out += fmt::format("<div><dt>{}</dt><dd>{}</dd></div>", name, words(in, sentence));
    out += "<div><dt>How sure</dt><dd>" + escape_html(in.words.how_sure) + "</dd></div>";
    if (!in.words.alternatives.empty())
        out +=
            "<div><dt>Alternatives</dt><dd>" + list(in, &PlanWords::alternatives) + "</dd></div>";
    return out + "</dl>";
}

std::string maps(const ReportInput& in) {
    std::string out;
    for (const FloorMap& map : in.plan.maps) out += floor_map_figure(map, in);
    return out.empty() ? "" : "<div class=\"maps\">" + out + "</div>";
}

/// How the room was solved, and what the model leaves out.
std::string model_words(const Scenario& scenario) {
    std::string text = scenario.acoustics.solver.solver == RoomSolver::grid
                           ? "The room is cut into cuboid cells and the sound stepped through them."
                       : scenario.acoustics.room.is_rectangle()
                           ? "The room is a rectangle, solved exactly."
                           : "The room is solved by elements that lie along its walls.";
    return text +
           " Each wall is uniform and reacts locally: a piece of wall moves only with the pressure "
           "right on it.";
}

std::string left_out_words(const RoomPlan& plan) {
    const auto counted = [](std::size_t count, const char* one, const char* many) {
        return count == 1 ? std::string("one ") + one : fmt::format("{} {}", count, many);
    };
    std::vector<std::string> in;
    if (!plan.blocks.empty()) in.push_back(counted(plan.blocks.size(), "block", "blocks"));
    if (!plan.openings.empty())
        in.push_back(
            counted(plan.openings.size(), "open doorway or window", "open doorways and windows"));
    if (!plan.spaces.empty())
        in.push_back(counted(plan.spaces.size(), "space next door", "spaces next door"));
    if (in.empty())
        return "There is no furniture, no people and no air leak in the model; doors and windows "
               "are shut.";
    return fmt::format(
        "Besides the bare room the model holds what the file names: {}. There is no other "
        "furniture, no people and no air leak in it; all other doors and windows are shut.",
        fmt::join(in, ", "));
}

std::string limits(const ReportInput& in) {
    const Scenario& scenario = in.scenario;
    std::vector<std::string> texts{
        "Published comparisons of such models with measured rooms agree within about 5 dB "
        "(Building Acoustics 13(2), 2006): trust the order of the spots and the broad shape of the "
        "curves, not the last decibel.",
        model_words(scenario)};
    if (!in.words.agreement.empty()) texts.push_back(in.words.agreement);
    texts.push_back(left_out_words(scenario.acoustics.room.plan));
    texts.push_back(
        "Published absorption tables stop at 125 Hz; what the walls do below that is "
        "extrapolated.");
    const std::vector<NamedWall> surfaces = scenario.acoustics.room.surfaces();
    for (const Construction& construction : constructions())
        if (!construction.extrapolated.empty() &&
            std::ranges::find(surfaces, construction.name, &NamedWall::description) !=
                surfaces.end())
            texts.push_back(construction.name + ": " + construction.extrapolated);
    return text_list(texts) + agreement_table(in.plan.agreement);
}

std::string understood(const ReportInput& in) {
    std::vector<std::string> warnings = in.warnings;
    for (const std::string& warning : in.scenario.warnings)
        if (std::ranges::find(warnings, warning) == warnings.end()) warnings.push_back(warning);
    std::string out = walls_table(in.scenario) + seats_and_driver(in);
    if (!warnings.empty()) out += "<h3>Warnings</h3>" + text_list(warnings);
    return out;
}

/// What hangs, in a sentence and a picture.
std::string ringing_section(const ReportInput& in) {
    const std::string words = ringing_words(in.notes);
    return ringing_chart(in.decay, in.notes,
                         words.empty() ? "No note hangs longer than listeners notice." : words);
}

/// The answer, from its sentence to the room file.
std::string report_content(const ReportInput& in) {
    const Plan& plan = in.plan;
    const Target& target = in.scenario.judgement.target;
    std::string page = unit_switch(in) + answer(in);
    page += section("floor", "On the floor", floor_section(in));
    page += section("why", "Why", why(in));
    page += section("boxes", "Three boxes", choice_cards(in));
    page += section("sound", "At the seats",
                    response_chart(plan, in.decision, target) + spread_chart(plan, target) +
                        loudest_chart(plan, target));
    page += section("recordings", "Measured",
                    recordings_section(in.recordings, in.scenario.judgement.target.band));
    page +=
        "<p class=\"all-parts buttons\"><button type=\"button\" id=\"everything\" "
        "hidden></button></p>";
    page += folded_section("hanging", "After the sound stops", ringing_section(in));
    page += folded_section("subs", "How many boxes", subs_section(in));
    if (in.crossing) {
        const bool several = in.subs && !in.subs->options.empty();
        const int count = several ? in.subs->options[in.subs->advice].subs() : 1;
        page += folded_section(
            "mains", "Through the crossover",
            crossing_chart(*in.crossing, fmt::format("{} box{}", count, count > 1 ? "es" : ""),
                           target, plan.at_build.absolute));
    }
    page += folded_section("size", "Box size", balance_chart(plan) + size_cost_charts(plan));
    page += folded_section("room", "The room\u2019s part",
                           lift_chart(plan, target) + boxes_chart(plan, target));
    page += folded_section("maps", "Over the floor", maps(in));
    page += folded_section(
        "numbers", "In numbers",
        spots_table(in) + boxes_table(in) +
            "<p class=\"note\">Spread: how far the seats differ. Unevenness: how rough the seat "
            "average is. Balance: how far its broad tilt strays. Reach: how low it goes. Lower is "
            "better in all four and in the score.</p>");
    page += folded_section("build", "The box to saw", in.build_section);
    page += folded_section("understood", "As understood", understood(in));
    page += folded_section("limits", "How far to trust this", limits(in));
    page += section("cautions", "Take care", text_list(in.words.cautions));
    // HTML takes away a line break right after <pre>: the text's own stays behind one of ours.
    return page +
           section("input", "The room file",
                   "<details><summary>Show the file this was worked out from</summary><pre "
                   "id=\"room-file\" dir=\"auto\">\n" +
                       escape_html(in.scenario.source_text) + "</pre></details><footer>boxroom " +
                       escape_html(in.version) + "</footer>");
}

}  // namespace

std::string html_report(const ReportInput& in) {
    const std::string title =
        in.scenario.title.empty() ? "Which box, standing where" : in.scenario.title;
    if (in.engine.empty())
        return open_page(title, in.version) + report_content(in) +
               fmt::format("</main><script>{}{}</script></body></html>\n", chart_script(),
                           folding_script());
    const char* const units = in.units == Units::metric ? "metric" : "imperial";
    return page_document({title, in.version, in.engine, fmt::format(" data-units=\"{}\"", units),
                          report_content(in)});
}

}  // namespace boxroom
