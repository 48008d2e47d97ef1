#include "report/setup_card.hpp"

#include <fmt/format.h>

#include <functional>

#include "report/html_text.hpp"
#include "tuning/biquad.hpp"

namespace boxroom {
namespace {

constexpr const char* card_style =
    "@page{margin:12mm}"
    ":root{color-scheme:light dark}"
    "body{font:15px/1.4 system-ui,sans-serif;max-width:46rem;margin:1rem auto;padding:0 1rem}"
    "h1{font-size:1.3rem;margin:0 0 .3rem}h2{font-size:1rem;margin:0 0 .2rem}"
    "ol{padding-left:1.4rem;margin:.6rem 0}li{margin:.5rem 0}p{margin:.2rem 0}"
    ".scroll{overflow-x:auto}table{border-collapse:collapse;margin:.3rem 0}"
    "th,td{border:1px solid currentColor;padding:.15rem .5rem;text-align:right}"
    "th:first-child,td:first-child{text-align:left}caption{text-align:left}"
    "@media print{body{font-size:11px;margin:0;max-width:none}li{break-inside:avoid}}";

std::string row(const std::string& head, const std::vector<std::string>& cells) {
    std::string out = "<tr><th scope=\"row\">" + escape_html(head) + "</th>";
    for (const std::string& cell : cells) out += "<td>" + escape_html(cell) + "</td>";
    return out + "</tr>";
}

/// The caption is shown where the step's own heading does not say as much.
std::string table(const std::string& caption, const std::vector<std::string>& heads,
                  const std::string& rows, bool show_caption = false) {
    std::string out = "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"" +
                      escape_html(caption) + "\"><table>" +
                      (show_caption ? "<caption>" + escape_html(caption) + "</caption>" : "") +
                      "<thead><tr>";
    for (const std::string& head : heads) out += "<th scope=\"col\">" + escape_html(head) + "</th>";
    return out + "</tr></thead><tbody>" + rows + "</tbody></table></div>";
}

std::string step(const std::string& name, const std::string& content) {
    return "<li><h2>" + name + "</h2>" + content + "</li>\n";
}

std::string paragraph(const std::string& text) {
    return "<p>" + escape_html(text) + "</p>";
}

/// Two tapes: from the left and from the front wall to the box's edges and its centre.
std::string places(const ReportInput& in) {
    std::string left, front;
    for (const DecidedSub& sub : in.decision.subs) {
        const Sides stands = turned(sub.outer, sub.facing);
        const auto tape = [&](double middle, double side) {
            return std::vector<std::string>{format_length(middle - side / 2, in.units),
                                            format_length(middle, in.units),
                                            format_length(middle + side / 2, in.units)};
        };
        auto cells = tape(sub.footprint.x, stands.width);
        left += row(sub.name, cells);
        cells = tape(sub.footprint.y, stands.depth);
        cells.push_back(facing_name(sub.facing));
        front += row(sub.name, cells);
    }
    return paragraph(
               "Two tapes, one along each wall. Measure to the edges; the centre is a check.") +
           table("From the left wall", {"box", "near edge", "centre", "far edge"}, left, true) +
           table("From the front wall", {"box", "near edge", "centre", "far edge", "driver faces"},
                 front, true);
}

std::string per_sub(const ReportInput& in, const std::string& head,
                    const std::function<std::string(const DecidedSub&)>& value) {
    std::string rows;
    for (const DecidedSub& sub : in.decision.subs) rows += row(sub.name, {value(sub)});
    return table(head, {"box", head}, rows);
}

std::string filters(const ReportInput& in) {
    if (in.decision.equaliser.empty()) return paragraph("None: leave the equaliser flat.");
    std::string rows;
    int n = 0;
    for (const EqFilter& f : in.decision.equaliser)
        rows +=
            row(fmt::format("{}, {}", ++n, filter_name(f.kind)),
                {decimal(f.frequency, 1) + " Hz", decimal(f.gain_db, 1) + " dB", decimal(f.q, 2)});
    return paragraph("The same filters for every box.") +
           table("Filters", {"filter", "frequency", "gain", "Q"}, rows);
}

std::string crossover(const ReportInput& in) {
    const auto& crossover = in.scenario.placed.crossover;
    if (!crossover)
        return paragraph(fmt::format(
            "The room file names none. Begin with a low-pass near {:.0f} Hz, the end of the band "
            "that was judged.",
            in.scenario.judgement.target.band.high));
    return paragraph(fmt::format("{:.0f} Hz, {}, order {}.", crossover->frequency,
                                 crossover_name(crossover->kind), crossover->order));
}

std::string checks(const ReportInput& in) {
    const Criteria& after = in.decision.equalised;
    return paragraph(
               "By ear: walking bass lines keep one loudness from note to note at every seat. "
               "Reverse one box's polarity for a moment: it should sound worse.") +
           paragraph(fmt::format(
               "By measuring: at each seat, slow sweeps from {:.0f} to {:.0f} Hz.{} The level may "
               "stray from the target by about {:.1f} dB.",
               in.scenario.judgement.target.band.low, in.scenario.judgement.target.band.high,
               in.scenario.seats.size() > 1
                   ? fmt::format(" Expect the seats to differ by about {:.1f} dB.", after.spread_db)
                   : "",
               after.unevenness_db)) +
           paragraph("If a peak lies elsewhere than here, trust the measurement.");
}

}  // namespace

std::string setup_card(const ReportInput& in) {
    const std::string title =
        in.scenario.title.empty() ? "Set-up card" : "Set-up card: " + in.scenario.title;
    std::string page = fmt::format(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\"><meta name=\"generator\" "
        "content=\"boxroom {}\"><link rel=\"icon\" href=\"data:,\"><title>{}</title><style>{}"
        "</style></head><body><main><h1>{}</h1>",
        escape_html(in.version), escape_html(shortened_text(title, 120)), card_style,
        isolated(title));
    page += paragraph(in.words.recommendation) + "<ol>\n";
    page += step("Place", places(in));
    page += step(
        "Level",
        per_sub(in, "gain, dB", [](const DecidedSub& s) { return decimal(s.dial.gain_db, 1); }) +
            paragraph("Start low. Raise all boxes together until the bass is as loud as "
                      "the rest."));
    page += step("Crossover", crossover(in));
    page += step("Delay", per_sub(in, "delay, ms", [](const DecidedSub& s) {
                     return decimal(s.dial.delay * 1e3, 1);
                 }));
    page += step("Polarity", per_sub(in, "polarity", [](const DecidedSub& s) {
                     return std::string(s.dial.polarity > 0 ? "normal" : "reversed");
                 }));
    page += step("Filters", filters(in));
    page += step("Check", checks(in));
    page += "</ol>\n";
    page += paragraph(
        "Level: NIOSH allows 85 dBA for 8 h and half the time for each 3 dB more. Bass is louder "
        "than it seems: keep test tones short and low.");
    return page + "</main></body></html>\n";
}

}  // namespace boxroom
