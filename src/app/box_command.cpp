// box: the closed box by itself, from a room file or from the driver's numbers.
#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "answers/box_answer.hpp"
#include "answers/option_value.hpp"
#include "app/session.hpp"
#include "base/error.hpp"
#include "base/levels.hpp"
#include "placement/listening.hpp"
#include "report/box_charts.hpp"
#include "report/chart_picture.hpp"

namespace boxroom {

namespace {

constexpr std::size_t most_boxes = 12;

/// The driver from the command line's own options.
DriverSheet sheet_from_options(const Request& r) {
    std::vector<Fault> faults;
    const auto read = [&](const char* name, const std::optional<std::string>& text,
                          Quantity quantity) -> std::optional<double> {
        if (!text) return std::nullopt;
        try {
            return option_value(name, *text, quantity);
        } catch (const Error& error) {
            for (const Fault& fault : error.faults())
                faults.push_back({name, fault.what, fault.mend});
            return std::nullopt;
        }
    };
    for (auto [name, value] : {std::pair{"--fs", &r.fs}, {"--qts", &r.qts}, {"--vas", &r.vas}})
        if (!*value)
            faults.push_back({name, "the driver's value is missing",
                              "box wants a room file, or --fs, --qts and --vas"});
    DriverSheet sheet;
    sheet.fs = read("--fs", r.fs, Quantity::frequency).value_or(0);
    sheet.qts = read("--qts", r.qts, Quantity::plain).value_or(0);
    sheet.vas = read("--vas", r.vas, Quantity::volume).value_or(0);
    sheet.qes = read("--qes", r.qes, Quantity::plain);
    sheet.qms = read("--qms", r.qms, Quantity::plain);
    sheet.re = read("--re", r.re, Quantity::resistance);
    sheet.le = read("--le", r.le, Quantity::inductance);
    sheet.sd = read("--sd", r.sd, Quantity::area);
    sheet.bl = read("--bl", r.bl, Quantity::force_factor);
    sheet.mms = read("--mms", r.mms, Quantity::mass);
    if (!faults.empty()) throw Error(faults);
    return sheet;
}

/// The columns of the first box by their names, those of the others with their number behind
/// it.
std::string column_names(const char* first, const std::vector<const char*>& each,
                         std::size_t boxes) {
    std::string line = first;
    for (std::size_t n = 1; n <= boxes; ++n)
        for (const char* name : each)
            line += "," + (n == 1 ? std::string(name) : fmt::format("{}_{}", name, n));
    return line + "\r\n";
}

/// Level, phase and group delay on the default analysis grid.
std::string response_csv(const std::vector<ClosedBox>& boxes) {
    std::string csv =
        column_names("frequency_hz", {"level_db", "phase_deg", "group_delay_ms"}, boxes.size());
    for (double f : logarithmic_grid({5, 500}, 48)) {
        csv += fmt::format("{:.4f}", f);
        for (const ClosedBox& box : boxes) {
            const auto h = box.response(f);
            csv += fmt::format(",{:.4f},{:.3f},{:.4f}", db_of_amplitude(std::abs(h)),
                               std::arg(h) * 180 / M_PI, 1e3 * box.group_delay(f));
        }
        csv += "\r\n";
    }
    return csv;
}

/// Six periods of the lowest fc: pressure after an impulse (its delta at zero left out) and
/// after a step, and the cone's way after a step.
std::string time_csv(const std::vector<ClosedBox>& boxes) {
    double slowest = boxes.front().fc;
    for (const ClosedBox& box : boxes) slowest = std::min(slowest, box.fc);
    std::string csv = column_names("time_ms", {"impulse_per_s", "step", "cone_step"}, boxes.size());
    for (int n = 0; n <= 600; ++n) {
        const double t = 6.0 / slowest * n / 600;
        csv += fmt::format("{:.4f}", 1e3 * t);
        for (const ClosedBox& box : boxes)
            csv += fmt::format(",{:.5f},{:.6f},{:.6f}", box.impulse_response(t),
                               box.step_response(t), box.displacement_step(t));
        csv += "\r\n";
    }
    return csv;
}

/// What is asked about, from the file or from the options.
struct Asked {
    Air air;
    Driver driver;
    Amplifier amplifier;
    std::vector<ClosedBox> boxes;  ///< as they were named: by Qtc, then by volume
    std::vector<std::string> warnings;
};

Asked read_request(const Request& request) {
    Asked asked;
    double filling = 1;
    const bool named = !request.qtcs.empty() || !request.volumes.empty();
    if (!request.file.empty()) {
        Session session(request);
        asked.air = session.scenario.acoustics.air;
        asked.driver = session.driver;
        asked.amplifier = session.scenario.design.amplifier;
        filling = session.scenario.design.filling;
        asked.warnings = session.warnings;
        if (!named) asked.boxes = {chosen_box(session.scenario, asked.driver, asked.warnings)};
    } else {
        asked.driver = complete_driver(sheet_from_options(request), asked.air);
        asked.warnings = asked.driver.warnings;
        if (!named)
            throw Error("box", "neither --qtc nor --volume is given", "add --qtc 0.707, say");
    }
    if (request.filling) filling = option_value("--filling", *request.filling, Quantity::plain);
    for (const std::string& qtc : request.qtcs)
        asked.boxes.push_back(
            closed_box_for_qtc(asked.driver, option_value("--qtc", qtc, Quantity::plain), filling));
    for (const std::string& volume : request.volumes)
        asked.boxes.push_back(
            closed_box(asked.driver, option_value("--volume", volume, Quantity::volume), filling));
    if (asked.boxes.size() > most_boxes)
        throw Error(
            "box", fmt::format("{} boxes are asked for", asked.boxes.size()),
            fmt::format("name {} at most: more cannot be told apart in a picture", most_boxes));
    return asked;
}

}  // namespace

Answer run_box(const Request& request) {
    const Asked asked = read_request(request);
    Answer answer = box_answer(asked.driver, asked.air, asked.boxes, request.units);
    if (!request.out.empty()) {
        const InputFiles inputs = input_files(request);
        ResultsFolder results(request.out, request.command, inputs);
        results.write("box_response.csv", response_csv(asked.boxes));
        results.write("box_time.csv", time_csv(asked.boxes));
        for (const CurveChart& chart :
             box_charts(asked.driver, asked.amplifier, asked.air, asked.boxes, request.units))
            results.write(chart.id + ".svg", chart_picture(chart));
        results.commit();
        answer.text += "Curves and pictures in " + request.out + "\n";
    }
    answer.json["timing_s"] = nlohmann::ordered_json::object();
    answer.json["warnings"] = asked.warnings;
    if (!request.quiet)
        for (const std::string& w : asked.warnings) say_note(w);
    return answer;
}

}  // namespace boxroom
