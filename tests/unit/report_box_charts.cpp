// Pictures of boxes by themselves, against closed forms.
#include "report/box_charts.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "report/chart_picture.hpp"

using namespace boxroom;

namespace {

DriverSheet sheet_without_inductance() {
    DriverSheet sheet;
    sheet.fs = 28, sheet.qts = 0.42, sheet.vas = 0.040;
    sheet.qes = 0.46, sheet.re = 3.4, sheet.sd = 0.033, sheet.xmax = 0.010;
    return sheet;
}

const CurveChart& named(const std::vector<CurveChart>& charts, const std::string& id) {
    const auto it = std::ranges::find(charts, id, &CurveChart::id);
    REQUIRE(it != charts.end());
    return *it;
}

}  // namespace

TEST_CASE("Cone travel and impedance of boxes meet their closed forms") {
    const Air air;
    const Driver driver = complete_driver(sheet_without_inductance(), air);
    const ClosedBox boxes[] = {closed_box(driver, 0.0003, 1), closed_box(driver, 0.030, 1.2)};
    const Amplifier amplifier{200, 4};
    const auto charts = box_charts(driver, amplifier, air, boxes, Units::metric);
    REQUIRE(charts.size() == 5);

    // Far below the resonance the motor's force stands against the springs alone:
    // x = sqrt(2) V Bl/Re / (k_suspension + rho c^2 Sd^2/V), exact as f -> 0 (Small, JAES 21(5)
    // 1973).
    const CurveChart& travel = named(charts, "box_cone_travel");
    const double air_spring = air.density * std::pow(air.speed_of_sound * *driver.sd, 2) / 0.0003;
    const double x = std::numbers::sqrt2 * std::sqrt(200.0 * 4) * *driver.bl / *driver.re /
                     (1 / *driver.cms + air_spring);
    REQUIRE(boxes[0].fc > 300);
    CHECK(travel.x.front() == Approx(10));
    CHECK(travel.curves[0].value.front() == Approx(1e3 * x).epsilon(0.002));
    CHECK(travel.curves.back().name == "Xmax");
    CHECK(travel.curves.back().value.front() == Approx(10));

    // At fc the mechanical side is its resistance: |Z| = Re + Bl^2/Rms = Re (1 + Qms/Qes).
    const CurveChart& impedance = named(charts, "box_impedance");
    REQUIRE(impedance.marks.size() == 1);  // the other resonates outside the picture
    CHECK(impedance.marks[0].x == Approx(boxes[1].fc));
    CHECK(impedance.marks[0].y == Approx(3.4 * (1 + *driver.qms / *driver.qes)).epsilon(1e-3));

    // F3 is where the level is 3 dB down (10 log10 2).
    for (const ChartMark& mark : named(charts, "box_response").marks)
        CHECK(mark.y == Approx(-10 * std::log10(2.0)).margin(0.001));
    // Without a level on the sheet no travel and no impedance is drawn.
    DriverSheet shape = sheet_without_inductance();
    shape.sd = shape.re = shape.qes = std::nullopt;
    CHECK(box_charts(complete_driver(shape, air), amplifier, air, boxes, Units::metric).size() ==
          3);
}

TEST_CASE("A chart's picture stands alone and holds no markup of the user's") {
    CurveChart chart;
    chart.id = "c", chart.title = "<b>", chart.x = {10, 20, 40};
    chart.curves = {{"a & <script>", {1, 2, 3}, "#000000", "", 1}};
    const std::string svg = chart_picture(chart);
    CHECK(svg.find("xmlns=\"http://www.w3.org/2000/svg\"") != std::string::npos);
    CHECK(svg.find("<script") == std::string::npos);
    CHECK(svg.find("<b>") == std::string::npos);
    CHECK(svg.find("a &amp; &lt;script&gt;") != std::string::npos);
    chart.x.resize(1);
    CHECK(chart_picture(chart).empty());
}
