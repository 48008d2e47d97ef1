#include "report/report_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/html_table.hpp"
#include "report/html_text.hpp"
#include "report/live_page.hpp"
#include "report/report_charts.hpp"

namespace boxroom {
namespace {

/// "0.35 x 0.35 x 0.38 m": a unit that all three share is written once.
std::string outer_size(const BoxOption& box, Units units) {
    std::string sides[] = {format_length(box.outer.width, units),
                           format_length(box.outer.depth, units),
                           format_length(box.outer.height, units)};
    if (units == Units::metric)
        for (std::string* side : {&sides[0], &sides[1]})
            if (side->ends_with(" m")) side->resize(side->size() - 2);
    return sides[0] + " \u00d7 " + sides[1] + " \u00d7 " + sides[2];
}

std::string hertz(double value) {
    return std::isfinite(value) ? format_frequency(value) : "-";
}

std::string cell(const std::string& text) {
    return "<td class=\"whole\">" + escape_html(text) + "</td>";
}

/// Of text that is HTML already.
std::string html_cell(const std::string& html) {
    return "<td class=\"whole\">" + html + "</td>";
}

std::string words_cell(const std::string& text) {
    return "<td class=\"words whole\">" + escape_html(text) + "</td>";
}

std::string size_html(const BoxOption& box, const ReportInput& in) {
    return either_html(outer_size(box, Units::metric), outer_size(box, Units::imperial), in);
}

std::string html_line(const std::string& name, const std::string& html) {
    return "<div><dt>" + name + "</dt><dd>" + html + "</dd></div>";
}

std::string line(const std::string& name, const std::string& value) {
    return html_line(name, escape_html(value));
}

std::string card(const std::string& title, const std::string& css, const BoxOption* box,
                 const std::string& rest, const ReportInput& in) {
    if (!box) return "";
    return fmt::format(
               "<div class=\"card{}\"><h3>{}</h3><p class=\"volume\">{} <small>net</small></p><dl>",
               css, title, volume_html(box->volume, in)) +
           line("Qtc", decimal(box->qtc, 2)) + line("F3 of the box alone", hertz(box->f3)) +
           line("balance in this room", decimal(box->in_room_balance_db, 1) + " dB") +
           (box->limited_by.empty()
                ? ""
                : line("plays here, equalised", decimal(box->loudest_db, 0) + " dB")) +
           html_line("outside, width \u00d7 depth \u00d7 height", size_html(*box, in)) + rest +
           (box->fits ? "" : line("at this spot", "does not fit")) + "</dl></div>";
}

}  // namespace

std::string choice_cards(const ReportInput& in) {
    const Plan& plan = in.plan;
    const std::string where =
        in.decision.subs.size() > 1
            ? line("where", "each has its own place")
            : html_line("centre, from the left wall", length_html(plan.spot.footprint.x, in)) +
                  html_line("centre, from the front wall", length_html(plan.spot.footprint.y, in)) +
                  line("driver faces", facing_words(plan.spot.facing));
    return "<div class=\"cards\">" +
           card(in.decision.subs.size() > 1
                    ? fmt::format("Build {} of these", in.decision.subs.size())
                    : std::string("Build this"),
                " chosen", box_option(plan, plan.build), where, in) +
           card("Endless floor, same rule", "", box_option(plan, plan.half_space_build), "", in) +
           card("Textbook, Qtc 0.707", "", box_option(plan, plan.textbook), "", in) +
           "</div><p class=\"note\">The endless floor has no walls: what the box does on paper. "
           "Its "
           "box follows the same rule as the room\u2019s. Of the boxes that were tried, the "
           "textbook one is the nearest to Qtc "
           "0.707.</p>\n";
}

std::string spots_table(const ReportInput& in) {
    const Plan& plan = in.plan;
    std::vector<std::string> heads{" rank", " facing", " box", "from left wall", "from front wall"};
    for (const Criterion& c : criterion_table)
        if (on_pages(c, true)) heads.push_back(criterion_head(c));
    std::string out = open_table("The ten best spots", heads);
    for (std::size_t n = 0; n < std::min<std::size_t>(plan.spots.size(), 10); ++n) {
        const RankedSpot& spot = plan.spots[n];
        std::string box = "-";
        if (n < plan.spot_boxes.size())
            box = volume_html(plan.spot_boxes[n].volume, in) + ", Qtc " +
                  decimal(plan.spot_boxes[n].qtc, 2);
        // The chosen spot, by its footprint: the box to build is not the box it was ranked with.
        const bool chosen = spot.rank == plan.spot.rank;
        out += fmt::format("<tr{}><th scope=\"row\" class=\"words whole\">{}{}</th>",
                           chosen ? " class=\"chosen\"" : "", spot.rank, chosen ? " chosen" : "");
        out += words_cell(facing_name(spot.facing)) + "<td class=\"words whole\">" + box + "</td>" +
               html_cell(length_html(spot.footprint.x, in)) +
               html_cell(length_html(spot.footprint.y, in));
        for (const Criterion& c : criterion_table)
            if (on_pages(c, true)) out += cell(decimal(spot.criteria.*c.member, c.decimals));
        out += "</tr>";
    }
    return out + table_end +
           "<p class=\"note\">Each spot is judged with the box that balances best there, and its "
           "place is "
           "that box\u2019s centre; another box keeps the same gap to the wall, so its centre "
           "moves a "
           "little.</p>";
}

std::string boxes_table(const ReportInput& in) {
    const Plan& plan = in.plan;
    std::string out = open_table(
        "The boxes, at the chosen spot",
        {" Qtc", " choice", "net volume", "balance in this room, dB", "balance in half space, dB",
         "fc", "F3", "outside, width \u00d7 depth \u00d7 height"});
    for (int i = 0; i < static_cast<int>(plan.boxes.size()); ++i) {
        const BoxOption& box = *box_option(plan, i);
        std::vector<std::string> choice;
        if (i == plan.build) choice.push_back("build");
        if (i == plan.in_room_best) choice.push_back("flattest here");
        if (i == plan.half_space_best) choice.push_back("flattest on an endless floor");
        if (i == plan.half_space_build) choice.push_back("endless floor, same rule");
        if (i == plan.textbook) choice.push_back("textbook");
        if (!box.fits) choice.push_back("does not fit");
        out += fmt::format(
            "<tr{}><th scope=\"row\" class=\"words\">{}</th><td class=\"words\">{}</td>",
            i == plan.build ? " class=\"chosen\"" : "", decimal(box.qtc, 2),
            fmt::join(choice, ", "));
        out += html_cell(volume_html(box.volume, in)) + cell(decimal(box.in_room_balance_db, 1)) +
               cell(decimal(box.half_space_balance_db, 1)) + cell(hertz(box.fc)) +
               cell(hertz(box.f3)) + html_cell(size_html(box, in)) + "</tr>";
    }
    return out + table_end;
}

std::string walls_table(const Scenario& scenario) {
    std::string out =
        open_table("The walls",
                   {" wall", " made of", "absorption, 63 Hz, extrapolated", "absorption, 125 Hz"});
    for (const NamedWall& wall : scenario.acoustics.room.surfaces()) {
        out +=
            fmt::format("<tr><th scope=\"row\" class=\"words\">{}</th><td class=\"long\">{}</td>",
                        escape_html(wall.name), isolated(wall.description));
        for (const double f : {63.0, 125.0}) {
            const auto beta =
                wall.wall.admittance(2 * std::numbers::pi * f, scenario.acoustics.air);
            const bool rigid = std::abs(beta) == 0;  // the closed form divides by beta
            out += cell(decimal(rigid ? 0 : random_incidence_absorption(beta), 2));
        }
        out += "</tr>";
    }
    return out + table_end;
}

std::string agreement_table(const SolverAgreement& agreement) {
    if (!agreement.known()) return "";
    std::string out = open_table(
        "The two solvers against each other, at the seats",
        {" seat", "largest difference, dB", "at", "RMS, dB", "largest difference, degrees"});
    for (const SolverAgreement::At& at : agreement.seats)
        out += "<tr><td class=\"long\">" + isolated(at.seat) + "</td>" +
               cell(decimal(at.largest_db, 2)) + cell(hertz(at.largest_hz)) +
               cell(decimal(at.rms_db, 2)) + cell(decimal(at.largest_deg, 1)) + "</tr>";
    return out + table_end;
}

std::string seats_and_driver(const ReportInput& in) {
    const Scenario& s = in.scenario;
    std::string out = open_table(
        "The seats", {" seat", "from left wall", "from front wall", "above floor", "weight"});
    for (const Seat& seat : s.seats)
        out += "<tr><td class=\"long\">" + isolated(seat.name) + "</td>" +
               html_cell(length_html(seat.at.x, in)) + html_cell(length_html(seat.at.y, in)) +
               html_cell(length_html(seat.at.z, in)) + cell(fmt::format("{:g}", seat.weight)) +
               "</tr>";
    out += table_end;
    const DriverSheet& d = s.design.driver;
    std::string driver = fmt::format("fs {}, Qts {}, Vas {}", hertz(d.fs), decimal(d.qts, 2),
                                     volume_html(d.vas, in));
    const auto more = [&](const char* name, const std::optional<double>& value, double factor,
                          int decimals, const char* unit) {
        if (value)
            driver += fmt::format(", {} {}{}", name, decimal(*value * factor, decimals), unit);
    };
    more("Qes", d.qes, 1, 2, "");
    more("Qms", d.qms, 1, 2, "");
    more("Re", d.re, 1, 1, " ohm");
    more("Le", d.le, 1e3, 2, " mH");
    more("Sd", d.sd, 1e4, 0, " cm2");
    more("Xmax", d.xmax, 1e3, 1, " mm");
    more("Bl", d.bl, 1, 1, " T m");
    more("Mms", d.mms, 1e3, 0, " g");
    more("thermal rating", d.power, 1, 0, " W");
    return out + fmt::format(
                     "<dl class=\"places\"><dt>room, width \u00d7 length \u00d7 height</dt><dd>{} "
                     "\u00d7 {} \u00d7 {}</dd>"
                     "<dt>driver</dt>"
                     "<dd>{}; levels are {}</dd><dt>filling</dt><dd>counts as {} times the net "
                     "volume</dd>"
                     "<dt>judged band</dt><dd>{:g} to {:g} Hz</dd></dl>",
                     length_html(s.acoustics.room.width, in),
                     length_html(s.acoustics.room.length, in),
                     length_html(s.acoustics.room.height, in), driver,
                     in.plan.at_build.absolute
                         ? "absolute, at 2.83 V"
                         : "relative: Sd, Re and Qes (or Bl and Mms) would make them absolute",
                     decimal(s.design.filling, 2), s.judgement.target.band.low,
                     s.judgement.target.band.high);
}

std::string text_list(const std::vector<std::string>& texts) {
    std::string out;
    for (const std::string& text : texts) out += "<li>" + isolated(text) + "</li>";
    return out.empty() ? "" : "<ul class=\"plain\">" + out + "</ul>";
}

}  // namespace boxroom
