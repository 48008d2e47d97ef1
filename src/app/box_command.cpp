// box: the closed box by itself, from a room file or from the driver's numbers.
#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "app/option_value.hpp"
#include "app/session.hpp"
#include "base/error.hpp"
#include "base/levels.hpp"

namespace boxroom {

namespace {

/// The driver from the command line's own options.
DriverSheet sheet_from_options(const Request& r) {
    std::vector<Fault> faults;
    const auto read = [&](const char* name, const std::optional<std::string>& text,
                          Quantity quantity) -> std::optional<double> {
        if (!text) return std::nullopt;
        try {
            return option_value(name, *text, quantity);
        } catch (const Error& error) {
            for (Fault fault : error.faults()) faults.push_back({name, fault.what, fault.mend});
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

/// Level, phase and group delay on the default analysis grid.
std::string response_csv(const ClosedBox& box) {
    std::string csv = "frequency_hz,level_db,phase_deg,group_delay_ms\r\n";
    for (double f : logarithmic_grid({5, 500}, 48)) {
        const auto h = box.response(f);
        csv += fmt::format("{:.4f},{:.4f},{:.3f},{:.4f}\r\n", f, db_of_amplitude(std::abs(h)),
                           std::arg(h) * 180 / M_PI, 1e3 * box.group_delay(f));
    }
    return csv;
}

/// Six periods of fc: pressure after an impulse (its delta at zero left out) and after a step, and
/// the cone's way after a step.
std::string time_csv(const ClosedBox& box) {
    std::string csv = "time_ms,impulse_per_s,step,cone_step\r\n";
    for (int n = 0; n <= 600; ++n) {
        const double t = 6.0 / box.fc * n / 600;
        csv += fmt::format("{:.4f},{:.5f},{:.6f},{:.6f}\r\n", 1e3 * t, box.impulse_response(t),
                           box.step_response(t), box.displacement_step(t));
    }
    return csv;
}

const char* verdict(double qtc) {
    if (qtc > 1.2) return "to be avoided: it rings and is loud before it is deep";
    if (qtc > 1.0) return "poor: a hump and a long ring";
    if (qtc > 0.75) return "a little hump, smaller box";
    if (qtc > 0.65) return "maximally flat, the textbook choice";
    return "early but gentle roll-off, quick to settle";
}

/// What is asked about, from the file or from the options.
struct Asked {
    Air air;
    Driver driver;
    ClosedBox box;
    std::vector<std::string> warnings;
};

Asked read_request(const Request& request) {
    if (request.qtc && request.volume)
        throw Error("box", "--qtc and --volume are both given", "give one of them");
    Asked asked;
    double filling = 1;
    if (!request.file.empty()) {
        Session session(request);
        asked.air = session.scenario.acoustics.air;
        asked.driver = session.driver;
        filling = session.scenario.design.filling;
        asked.warnings = session.warnings;
        if (!request.qtc && !request.volume)
            asked.box = chosen_box(session.scenario, asked.driver, asked.warnings);
    } else {
        asked.driver = complete_driver(sheet_from_options(request), asked.air);
        asked.warnings = asked.driver.warnings;
        if (!request.qtc && !request.volume)
            throw Error("box", "neither --qtc nor --volume is given", "add --qtc 0.707, say");
    }
    if (request.filling) filling = option_value("--filling", *request.filling, Quantity::plain);
    if (request.qtc)
        asked.box = closed_box_for_qtc(
            asked.driver, option_value("--qtc", *request.qtc, Quantity::plain), filling);
    if (request.volume)
        asked.box = closed_box(
            asked.driver, option_value("--volume", *request.volume, Quantity::volume), filling);
    return asked;
}

}  // namespace

Answer run_box(const Request& request) {
    const Asked asked = read_request(request);
    const ClosedBox& box = asked.box;
    Answer answer;
    answer.json = {{"fc_hz", box.fc},
                   {"qtc", box.qtc},
                   {"volume_l", box.volume * 1e3},
                   {"f3_hz", box.f3()},
                   {"peak_db", box.peak_db()},
                   {"apparent_volume_l", box.apparent_volume * 1e3},
                   {"overshoot_percent", 100 * box.displacement_overshoot()}};
    answer.text = fmt::format(
        "volume  {} net ({} apparent)\nQtc     {:.2f}: {}\nfc      {:.1f} Hz\nF3      {:.1f} Hz\n"
        "peak    {:.1f} dB\ncone    overshoots a step by {:.0f} %\n",
        format_volume(box.volume, request.units), format_volume(box.apparent_volume, request.units),
        box.qtc, verdict(box.qtc), box.fc, box.f3(), box.peak_db(),
        100 * box.displacement_overshoot());
    if (const auto eta = reference_efficiency(asked.driver, asked.air)) {
        answer.json["efficiency"] = *eta;
        answer.json["spl_1w_1m_db"] = *spl_1w_1m_db(asked.driver, asked.air);
        answer.text += fmt::format("level   {:.1f} dB for 1 W at 1 m in half space\n",
                                   *spl_1w_1m_db(asked.driver, asked.air));
    }
    if (!request.out.empty()) {
        const InputFiles inputs = input_files(request);
        ResultsFolder results(request.out, request.command, inputs);
        results.write("box_response.csv", response_csv(box));
        results.write("box_time.csv", time_csv(box));
        results.commit();
        answer.text += "Curves in " + request.out + "\n";
    }
    answer.json["timing_s"] = nlohmann::ordered_json::object();
    answer.json["warnings"] = asked.warnings;
    if (!request.quiet)
        for (const std::string& w : asked.warnings) fmt::print(stderr, "note: {}\n", w);
    return answer;
}

}  // namespace boxroom
