#include "report/crossing_chart.hpp"

#include <fmt/format.h>

#include "report/curve_chart.hpp"

namespace boxroom {

std::string crossing_chart(const Crossing& c, const std::string& subs, const Target& target,
                           bool absolute) {
    CurveChart chart;
    chart.id = "crossing";
    chart.title = c.mains.empty() ? "Through the low-pass" : "With the main loudspeakers";
    chart.caption =
        "Seat averages" +
        (c.filtered
             ? fmt::format(" through the crossover at {:g} Hz ({}, order {})", c.frequency,
                           c.type == "butterworth" ? "Butterworth" : "Linkwitz-Riley", c.order)
             : std::string(", everything full range")) +
        ". " + c.advice;
    chart.x = c.grid;
    chart.x_title = "frequency, Hz", chart.x_unit = "Hz";
    chart.y_title =
        absolute ? "level, dB re 20 uPa at 2.83 V" : "level, dB re passband at 1 m in half space";
    chart.y_unit = "dB";
    chart.shade_from = target.band.low, chart.shade_to = target.band.high;
    chart.curves.push_back({"subs: " + subs, c.subs_db, chart_colour(0), "", 1.8});
    if (!c.mains_db.empty()) {
        chart.curves.push_back({"mains", c.mains_db, chart_colour(1), "7 4", 1.8});
        chart.curves.push_back({"together", c.sum_db, "#1f2629", "", 3.2});
    }
    return chart_html(chart);
}

}  // namespace boxroom
