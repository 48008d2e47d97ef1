#include "report/report_charts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "report/curve_chart.hpp"
#include "report/html_text.hpp"

namespace boxroom {
namespace {

const char* const grey = "#5b5f66";
const char* const warm = "#b0307f";  // no seat has it

/// Of a response that was worked out; else gaps.
std::vector<double> seat_levels(const Listening& response, std::size_t seat) {
    if (response.level_db.frequencies() == response.frequency.size() &&
        seat < response.level_db.rows())
        return response.level_db.over_frequency(seat);
    return std::vector<double>(response.frequency.size(), std::numeric_limits<double>::quiet_NaN());
}

std::string level_title(const Listening& response) {
    return response.absolute ? "level, dB re 20 uPa at 2.83 V"
                             : "level, dB re passband at 1 m in half space";
}

/// The common part of the charts over frequency.
CurveChart over_frequency(const std::string& id, const Listening& response, const Target& target) {
    CurveChart chart;
    chart.id = id;
    chart.x = response.frequency;
    chart.x_title = "frequency, Hz";
    chart.x_unit = "Hz";
    chart.y_unit = "dB";
    chart.shade_from = target.band.low;
    chart.shade_to = target.band.high;
    return chart;
}

std::string box_name(const std::string& which, const BoxOption* box) {
    return box ? which + ", Qtc " + decimal(box->qtc, 2) : which;
}

}  // namespace

const BoxOption* box_option(const Plan& plan, int index) {
    const bool there = index >= 0 && index < static_cast<int>(plan.boxes.size());
    return there ? &plan.boxes[static_cast<std::size_t>(index)] : nullptr;
}

std::string response_chart(const Plan& plan, const Decision& decision, const Target& target) {
    const Listening& at = plan.at_build;
    CurveChart chart = over_frequency("response", at, target);
    chart.title = "What the seats hear";
    chart.caption =
        "The box to build at the chosen spot. Thin lines are single seats, the thick one "
        "their average; the target runs through the tinted band, which is the one that is "
        "judged. Half space is the same box at 1 m on an endless floor, without the room.";
    chart.y_title = level_title(at);
    for (std::size_t s = 0; s < at.seats.size(); ++s)
        chart.curves.push_back(
            {at.seats[s].name, seat_levels(at, s), chart_colour(s), chart_dash(s), 1.3});
    chart.curves.push_back({"seat average", at.seat_average_db, ink, "", 3.2});
    chart.curves.push_back({"half space, 1 m", at.half_space_db, grey, "9 5", 1.8});
    std::vector<double> wanted = at.target_db;
    for (std::size_t f = 0; f < std::min(wanted.size(), at.frequency.size()); ++f)
        if (!target.band.contains(at.frequency[f]))
            wanted[f] = std::numeric_limits<double>::quiet_NaN();
    chart.curves.push_back({"target", wanted, ink, "1.5 4", 2.4});
    if (!decision.equaliser.empty() && decision.equalised_db.size() == at.frequency.size())
        chart.curves.push_back({"seat average, equalised", decision.equalised_db, warm, "", 2.2});
    return chart_html(chart);
}

std::string spread_chart(const Plan& plan, const Target& target) {
    CurveChart chart = over_frequency("spread", plan.at_build, target);
    chart.title = "How far the seats differ";
    chart.caption =
        "Spread: the weighted standard deviation of the level across the seats. Equalisation "
        "cannot mend it; another spot or more subs can.";
    chart.y_title = "spread, dB";
    chart.from_zero = true;
    chart.curves.push_back(
        {"spread across the seats", spread_by_frequency(plan.at_build), chart_colour(0), "", 2.2});
    return chart_html(chart);
}

std::string loudest_chart(const Plan& plan, const Target& target) {
    const Listening& at = plan.at_build;
    if (at.max_level_db.empty()) return "";
    CurveChart chart = over_frequency("loudest", at, target);
    chart.title = "How loud it can play";
    chart.caption =
        "One steady tone at a time, before the cone reaches its travel or the amplifier or the "
        "coil its rating. Equalisation does not move these curves: it only decides how much of "
        "them is used.";
    chart.y_title = "loudest level, dB re 20 uPa";
    chart.deepest = 60;
    chart.curves.push_back({"at the seats, average", at.max_level_db, chart_colour(0), "", 2.6});
    chart.curves.push_back({"half space, 1 m", at.half_space_max_level_db, grey, "9 5", 1.8});
    if (target.level) {
        std::vector<double> wanted;
        const double from = target.down_to.value_or(target.band.low);
        for (const double f : at.frequency)
            wanted.push_back(f >= from * (1 - 1e-9) && target.band.contains(f)
                                 ? *target.level + target_db(target, f)
                                 : std::numeric_limits<double>::quiet_NaN());
        chart.curves.push_back({"wanted", wanted, ink, "1.5 4", 2.4});
    }
    return chart_html(chart);
}

std::string balance_chart(const Plan& plan) {
    CurveChart chart;
    chart.id = "balance";
    chart.title = "What box size changes";
    chart.caption =
        "Balance is how far the broad tilt strays from the target; lower is better. On the "
        "left the boxes are large, on the right small.";
    chart.x_title = "Qtc";
    chart.y_title = "balance, dB";
    chart.x_unit = "Qtc";
    chart.y_unit = "dB";
    chart.x_decimals = 2;
    chart.logarithmic = false;
    chart.from_zero = true;
    ChartCurve room{"in this room, at the chosen spot", {}, chart_colour(0), "", 2.4};
    ChartCurve open{"half space", {}, chart_colour(1), "7 4", 2.4};
    for (const BoxOption& box : plan.boxes) {
        chart.x.push_back(box.qtc);
        room.value.push_back(box.in_room_balance_db);
        open.value.push_back(box.half_space_balance_db);
    }
    chart.curves = {room, open};
    using Shape = ChartMark::Shape;
    if (const BoxOption* box = box_option(plan, plan.build))
        chart.marks.push_back(
            {Shape::disc, box_name("box to build", box), box->qtc, box->in_room_balance_db});
    if (const BoxOption* box = box_option(plan, plan.half_space_build))
        chart.marks.push_back({Shape::square, box_name("best in half space", box), box->qtc,
                               box->half_space_balance_db});
    if (const BoxOption* box = box_option(plan, plan.textbook))
        for (const double y : {box->in_room_balance_db, box->half_space_balance_db})
            chart.marks.push_back({Shape::triangle, box_name("textbook", box), box->qtc, y});
    return chart_html(chart);
}

namespace {

/// A number of each box by its Qtc, with the box to build and the textbook's marked.
std::string by_size(const Plan& plan, CurveChart chart, const std::string& name,
                    double BoxOption::*value) {
    chart.x_title = "Qtc", chart.x_unit = "Qtc", chart.x_decimals = 2, chart.logarithmic = false;
    ChartCurve curve{name, {}, chart_colour(0), "", 2.4};
    for (const BoxOption& box : plan.boxes) {
        chart.x.push_back(box.qtc);
        curve.value.push_back(box.*value);
    }
    chart.curves = {curve};
    using Shape = ChartMark::Shape;
    if (const BoxOption* box = box_option(plan, plan.build))
        chart.marks.push_back({Shape::disc, box_name("box to build", box), box->qtc, box->*value});
    if (const BoxOption* box = box_option(plan, plan.textbook))
        chart.marks.push_back({Shape::triangle, box_name("textbook", box), box->qtc, box->*value});
    return chart_html(chart);
}

}  // namespace

std::string size_cost_charts(const Plan& plan) {
    if (plan.boxes.empty() || plan.boxes.front().limited_by.empty()) return "";
    CurveChart level;
    level.id = "size_level", level.title = "What a smaller box costs in level";
    level.caption = "The loudest clean level at the seats, equalised.";
    level.y_title = "level, dB", level.y_unit = "dB";
    std::string out = by_size(plan, level, "plays, equalised", &BoxOption::loudest_db);
    if (std::ranges::any_of(plan.boxes, [](const BoxOption& box) { return box.watts > 0; })) {
        CurveChart watts;
        watts.id = "size_watts", watts.title = "What a smaller box costs in power";
        watts.caption = "What each amplifier must give for the same level, whatever the box.";
        watts.y_title = "power, W", watts.y_unit = "W", watts.from_zero = true;
        out += by_size(plan, watts, "power of each amplifier", &BoxOption::watts);
    }
    return out;
}

std::string lift_chart(const Plan& plan, const Target& target) {
    CurveChart chart = over_frequency("lift", plan.at_build, target);
    chart.title = "What the room adds";
    chart.caption =
        "Lift, or room gain: the seat average less what the same box gives at 1 m in half "
        "space.";
    chart.y_title = "lift, dB";
    chart.curves.push_back({"lift", plan.at_build.lift_db, chart_colour(0), "", 2.2});
    return chart_html(chart);
}

std::string boxes_chart(const Plan& plan, const Target& target) {
    CurveChart chart = over_frequency("boxes", plan.at_build, target);
    chart.title = "Box to build against the textbook box";
    chart.caption = "Seat averages of both boxes at the chosen spot.";
    chart.y_title = level_title(plan.at_build);
    chart.curves.push_back({box_name("box to build", box_option(plan, plan.build)),
                            plan.at_build.seat_average_db, chart_colour(0), "", 2.6});
    if (plan.at_textbook.frequency == plan.at_build.frequency)
        chart.curves.push_back({box_name("textbook", box_option(plan, plan.textbook)),
                                plan.at_textbook.seat_average_db, chart_colour(1), "7 4", 2.2});
    return chart_html(chart);
}

}  // namespace boxroom
