#include "report/fit_page.hpp"

#include <fmt/format.h>

#include <cmath>

#include "report/curve_chart.hpp"
#include "report/html_table.hpp"
#include "report/html_text.hpp"
#include "report/page_frame.hpp"
#include "report/page_text.hpp"
#include "report/recording_charts.hpp"

namespace boxroom {
namespace {

std::string cell(double value, int decimals) {
    return table_cell(decimal(value, decimals));
}

std::string misfit_table(const std::string& title, const std::vector<SeatMisfit>& all) {
    if (all.empty()) return {};
    std::string out = open_table(title, {" seat", "before, dB", "after, dB"});
    for (const SeatMisfit& seat : all)
        out += "<tr><th scope=\"row\" class=\"words\">" + isolated(seat.name) + "</th>" +
               cell(seat.before_db, 1) + cell(seat.after_db, 1) + "</tr>";
    return out + table_end;
}

/// Three figures: the doubts are no finer.
std::string figures(double value) {
    return fmt::format("{:.3g}", value);
}

}  // namespace

std::string fit_misfit_tables(const RoomFit& fit) {
    return misfit_table("At the seats that were fitted", fit.seats) +
           misfit_table("Each seat left out of the fit", fit.left_out);
}

std::string fit_parameter_table(const RoomFit& fit) {
    std::string out = open_table("What was free, 90 % intervals",
                                 {" what", "before", "likeliest", "after", " told apart"});
    for (const FittedParameter& p : fit.parameters) {
        const std::string unit = p.unit == "1" ? "" : ", " + p.unit;
        out += "<tr><th scope=\"row\" class=\"words\">" + isolated(p.name + unit) + "</th><td>" +
               figures(p.prior.low) + " to " + figures(p.prior.high) + "</td><td>" +
               figures(p.found.best) + "</td><td>" + figures(p.found.low) + " to " +
               figures(p.found.high) + "</td><td class=\"words\">" + (p.told_apart ? "yes" : "no") +
               "</td></tr>";
    }
    return out + table_end;
}

std::string fit_recording_table(const RoomFit& fit) {
    std::string out = open_table("Measured against predicted, in the target band",
                                 {" recording", "gain, dB", "delay, ms", " the other way round"});
    for (std::size_t r = 0; r < fit.recordings.size(); ++r) {
        const FoundRecording& one = fit.recordings[r];
        std::string delay = "not told", turned = delay;
        if (one.timing) {
            delay = decimal(1e3 * one.timing->delay_s, 1);
            turned = one.timing->inverted ? "yes" : "no";
        }
        out += "<tr><th scope=\"row\" class=\"words\">" + isolated(fit.state.recordings[r].name) +
               "</th>" + cell(one.gain_db, 1) + table_cell(delay) + "<td class=\"words\">" +
               turned + "</td></tr>";
    }
    return out + table_end;
}

CurveChart fit_chart(const RoomFit& fit, const HeardCurve& curve, std::size_t r) {
    CurveChart chart = measured_chart(curve, 0, r);
    chart.caption += " Predicted levels are moved by the gain found.";
    std::vector<double> low = fit.after_db[r], high = fit.after_db[r];
    for (std::size_t f = 0; f < low.size(); ++f)
        low[f] -= fit.doubt_db[r][f], high[f] += fit.doubt_db[r][f];
    chart.curves.push_back({"predicted before", fit.before_db[r], chart_colour(1), "2 3", 1.5});
    chart.curves.push_back({"predicted after", fit.after_db[r], chart_colour(2), "7 3", 2});
    chart.curves.push_back({"after, doubt below", low, chart_colour(2), "1 3", 1});
    chart.curves.push_back({"after, doubt above", high, chart_colour(2), "1 3", 1});
    return chart;
}

std::string fit_page(const RoomFit& fit, const std::vector<HeardCurve>& heard,
                     const std::string& room, const std::vector<std::string>& sentences,
                     const std::string& version) {
    const std::string title = (room.empty() ? "The room" : room) + ", corrected by measurement";
    std::string page = open_page(title, version) + "<header><h1>" + isolated(title) + "</h1>";
    for (const std::string& sentence : sentences) page += "<p>" + isolated(sentence) + "</p>";
    page += "</header>\n";
    page += section("seats", "Off by, 1/12 octave over the target band", fit_misfit_tables(fit));
    std::string charts;
    for (std::size_t r = 0; r < heard.size(); ++r)
        charts += chart_html(fit_chart(fit, heard[r], r));
    page += section("curves", "Measured and predicted", charts);
    page += section("parameters", "What the recordings tell", fit_parameter_table(fit));
    page += section("recordings", "Gain and delay",
                    "<p>Each recording has a clock of its own. Between those that share one, "
                    "differences are the subs'.</p>" +
                        fit_recording_table(fit));
    return page +
           fmt::format("<footer>boxroom {}</footer></main><script>{}</script></body></html>\n",
                       escape_html(version), chart_script());
}

}  // namespace boxroom
