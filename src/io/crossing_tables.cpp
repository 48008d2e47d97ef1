#include "io/crossing_tables.hpp"

#include <fmt/format.h>

#include "io/csv.hpp"
#include "io/curve_chart.hpp"

namespace boxroom {

std::string crossing_csv(const Crossing& c, const std::vector<Seat>& seats) {
    Csv csv;
    csv.field("frequency_hz");
    csv.field("subs_average_db");
    if (!c.mains_db.empty()) csv.field("mains_average_db");
    csv.field("sum_average_db");
    for (const Seat& seat : seats) csv.field("level_db: " + seat.name);
    csv.end_row();
    for (std::size_t f = 0; f < c.grid.size(); ++f) {
        csv.number(c.grid[f]);
        csv.number(c.subs_db[f]);
        if (!c.mains_db.empty()) csv.number(c.mains_db[f]);
        csv.number(c.sum_db[f]);
        for (std::size_t s = 0; s < seats.size(); ++s) csv.number(c.level_db[f * seats.size() + s]);
        csv.end_row();
    }
    return csv.take();
}

void write_crossing(Hdf5Writer& file, const Crossing& c, std::size_t seats) {
    const hsize_t f = c.grid.size();
    file.numbers("/crossover/subs", c.subs_db, {f},
                 {"dB", "seat average of the subs through the low-pass"});
    if (!c.mains_db.empty())
        file.numbers("/crossover/mains", c.mains_db, {f},
                     {"dB", "seat average of the main loudspeakers through the high-pass"});
    file.numbers("/crossover/sum", c.sum_db, {f}, {"dB", "seat average of both together"});
    file.numbers("/crossover/level", c.level_db, {f, seats},
                 {"dB", "level of both together at each seat"});
}

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
