#include "report/recording_charts.hpp"

#include <fmt/format.h>

#include <cmath>

#include "measured/recording_names.hpp"
#include "report/html_text.hpp"

namespace boxroom {

CurveChart measured_chart(const HeardCurve& heard, double offset_db, std::size_t number) {
    CurveChart chart;
    chart.id = fmt::format("recording{}", number);
    chart.title = recording_title(heard.recording);
    chart.caption = "Measured where it can be trusted.";
    chart.x_title = "frequency, Hz", chart.x_unit = "Hz";
    chart.y_title = "level, dB", chart.y_unit = "dB";
    chart.x = heard.frequency;
    std::vector<double> measured = heard.level_db;
    for (std::size_t f = 0; f < measured.size(); ++f)
        measured[f] = heard.trusted[f] ? measured[f] + offset_db : std::nan("");
    chart.curves = {{"measured", std::move(measured), chart_colour(0), "", 2.5}};
    return chart;
}

CurveChart beside_chart(const BesidePrediction& one, std::size_t number) {
    CurveChart chart = measured_chart(one.heard, one.offset_db, number);
    chart.curves.push_back({"predicted", one.predicted_db, chart_colour(1), "7 3", 2});
    return chart;
}

std::string recordings_words(const std::vector<BesidePrediction>& all, const Band& band) {
    double sum = 0;
    int count = 0;
    for (const BesidePrediction& one : all)
        if (std::isfinite(one.apart_db)) sum += one.apart_db, ++count;
    if (count == 0) return "";
    const double mean = sum / count;
    return fmt::format(
               "With the boxes where the file has them, {} recording{} {:.1f} dB off the model, "
               "RMS from {:g} to {:g} Hz.",
               count, count > 1 ? "s are on average" : " is", mean, band.low, band.high) +
           (mean > 3 ? " Let `boxroom fit` correct the model before you build." : "");
}

std::string recordings_section(const std::vector<BesidePrediction>& all, const Band& band) {
    const std::string words = recordings_words(all, band);
    if (words.empty()) return "";
    std::string out = "<p class=\"note\">" + escape_html(words) + "</p>";
    for (std::size_t r = 0; r < all.size(); ++r) out += chart_html(beside_chart(all[r], r));
    return out;
}

}  // namespace boxroom
