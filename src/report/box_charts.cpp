#include "report/box_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/frequency_grid.hpp"
#include "base/levels.hpp"

namespace boxroom {
namespace {

using std::numbers::pi;

struct Boxes {
    std::span<const ClosedBox> boxes;
    Units units;

    /// A chart with a curve a box.
    CurveChart chart(const char* id, std::string title, std::string caption, std::vector<double> x,
                     const std::function<double(const ClosedBox&, double)>& value) const {
        CurveChart out;
        out.id = id, out.title = std::move(title), out.caption = std::move(caption);
        out.x_title = "frequency, Hz", out.x_unit = "Hz";
        out.x = std::move(x);
        for (std::size_t n = 0; n < boxes.size(); ++n) {
            ChartCurve curve{box_title(boxes[n], units), {}, chart_colour(n), chart_dash(n), 2};
            for (const double at : out.x) curve.value.push_back(value(boxes[n], at));
            out.curves.push_back(std::move(curve));
        }
        return out;
    }
    void mark(CurveChart& chart, const char* name, const std::function<double(const ClosedBox&)>& x,
              const std::function<double(const ClosedBox&, double)>& value) const {
        for (const ClosedBox& box : boxes)
            if (x(box) >= chart.x.front() && x(box) <= chart.x.back())
                chart.marks.push_back({ChartMark::Shape::disc, name, x(box), value(box, x(box))});
    }
};

double resonance(const ClosedBox& box) {
    return box.fc;
}

/// Peak, one way [mm].
double travel(const Driver& driver, const ClosedBox& box, const Air& air, double volts, double f) {
    const double one[] = {f};
    const double flow = std::abs(volume_velocity(driver, box, one, air, volts).front());
    return 1e3 * std::numbers::sqrt2 * flow / (2 * pi * f * *driver.sd);
}

CurveChart travel_chart(const Boxes& in, const Driver& driver, double volts, const Air& air,
                        const std::vector<double>& frequency) {
    CurveChart chart = in.chart(
        "box_cone_travel", "Cone travel at full power",
        fmt::format("A steady note at {:.0f} V, peak and one way; above Xmax it distorts.", volts),
        frequency,
        [&](const ClosedBox& box, double f) { return travel(driver, box, air, volts, f); });
    chart.y_title = "travel, mm", chart.y_unit = "mm", chart.from_zero = true;
    if (driver.xmax)
        chart.curves.push_back({"Xmax", std::vector<double>(frequency.size(), 1e3 * *driver.xmax),
                                "#5b5f66", "9 5", 1.5});
    return chart;
}

CurveChart impedance_chart(const Boxes& in, const Driver& driver, const Air& air,
                           const std::vector<double>& frequency) {
    const auto size = [&](const ClosedBox& box, double f) {
        return std::abs(input_impedance(driver, box, f, air));
    };
    CurveChart chart = in.chart(
        "box_impedance", "Impedance",
        "The peak stands at fc: the first thing to measure on the finished box.", frequency, size);
    chart.y_title = "impedance, ohm", chart.y_unit = "ohm", chart.from_zero = true;
    in.mark(chart, "fc", resonance, size);
    return chart;
}

}  // namespace

std::string box_title(const ClosedBox& box, Units units) {
    return fmt::format("{}, Qtc {:.2f}", format_volume(box.volume, units), box.qtc);
}

std::vector<CurveChart> box_charts(const Driver& driver, const Amplifier& amplifier, const Air& air,
                                   std::span<const ClosedBox> boxes, Units units) {
    const Boxes in{boxes, units};
    const std::vector<double> frequency = logarithmic_grid({10, 200}, 48);
    std::vector<CurveChart> charts;
    const auto level = [](const ClosedBox& box, double f) {
        return db_of_amplitude(std::abs(box.response(f)));
    };
    charts.push_back(in.chart(
        "box_response", "Response in half space",
        "Level against the passband; a room adds its own.", frequency, level));
    charts.back().y_title = "level, dB", charts.back().y_unit = "dB", charts.back().deepest = 30;
    in.mark(
        charts.back(), "F3, where it is 3 dB down", [](const ClosedBox& box) { return box.f3(); },
        level);
    const auto delay = [](const ClosedBox& box, double f) { return 1e3 * box.group_delay(f); };
    charts.push_back(
        in.chart("box_group_delay", "Group delay", "How late each note comes.", frequency, delay));
    charts.back().y_title = "delay, ms", charts.back().y_unit = "ms";
    charts.back().from_zero = true;
    in.mark(charts.back(), "fc", resonance, delay);

    double slowest = boxes.front().fc;
    for (const ClosedBox& box : boxes) slowest = std::min(slowest, box.fc);
    std::vector<double> time;
    for (int n = 0; n <= 400; ++n) time.push_back(1e3 * 3 / slowest * n / 400);
    charts.push_back(in.chart(
        "box_step", "Pressure after a step", "The sooner it lies on zero, the tighter it sounds.",
        time, [](const ClosedBox& box, double ms) { return box.step_response(1e-3 * ms); }));
    charts.back().x_title = "time, ms", charts.back().x_unit = "ms";
    charts.back().y_title = "pressure, 1 at the start", charts.back().logarithmic = false;

    const auto volts = amplifier.volts(driver);
    if (volts && driver.absolute())
        charts.push_back(travel_chart(in, driver, *volts, air, frequency));
    if (driver.absolute()) charts.push_back(impedance_chart(in, driver, air, frequency));
    return charts;
}

}  // namespace boxroom
