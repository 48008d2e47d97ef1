// new, check, box, modes: nothing that needs a sub in the room.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "app/floor_plan_text.hpp"
#include "app/session.hpp"
#include "base/error.hpp"
#include "base/levels.hpp"
#include "room_file/room_file.hpp"
#include "solvers/modal.hpp"

namespace boxroom {

Answer run_new(const Request& request) {
    if (std::filesystem::exists(std::filesystem::symlink_status(request.file)))
        throw Error(request.file, "the file exists and is never overwritten",
                    "choose another name, or move the old file away");
    bool imperial = request.units == Units::imperial;
    const std::string text =
        request.ask ? ask_for_room_file(request, imperial) : starter_room_file(request.units);
    write_output(request.file, text, {});
    const std::string next = request.file + (imperial ? " --units imperial" : "");
    return {request.ask ? fmt::format("\nWrote {}. Now look at it: boxroom check {}\n"
                                      "and find the box and its place: boxroom plan {}\n",
                                      request.file, next, next)
                        : fmt::format("Wrote {}. Edit it, then run: boxroom check {}\n",
                                      request.file, next),
            {{"file", request.file},
             {"timing_s", nlohmann::ordered_json::object()},
             {"warnings", nlohmann::ordered_json::array()}}};
}

/// What makes the room more than a rectangle, a line each, and which solver takes it.
static std::string plan_text(const Scenario& s, Units units) {
    const RoomPlan& plan = s.acoustics.room.plan;
    std::string text;
    const auto size = [&](const Point& from, const Point& to) {
        std::vector<std::string> sides;
        for (const double side : {to.x - from.x, to.y - from.y, to.z - from.z})
            if (side > 0) sides.push_back(format_length(side, units));
        return fmt::format("{}", fmt::join(sides, " x "));
    };
    if (!plan.outline.empty())
        text += fmt::format("plan    {} corners, {:.1f} m2 of floor\n", plan.outline.size(),
                            outline_area(plan.outline));
    for (const Block& b : plan.blocks)
        text += fmt::format("block   {}: {}\n", b.name, size(b.from, b.to));
    for (const Space& b : plan.spaces)
        text += fmt::format("space   {}: {}\n", b.name, size(b.from, b.to));
    for (const Opening& o : plan.openings)
        text += fmt::format("opening {}: {}, to {}\n", o.name, size(o.from, o.to),
                            o.space < 0 ? "the outside" : plan.spaces[o.space].name);
    if (!plan.empty())
        text += s.acoustics.solver.solver == RoomSolver::grid
                    ? "solved  on a grid of cells\n"
                    : "solved  exactly, the openings as lumped impedances\n";
    return text;
}

Answer run_check(const Request& request) {
    Session session(request);
    const Scenario& s = session.scenario;
    std::string text = fmt::format("{}\nroom    {} x {} x {}, {:.0f} m3\n", s.title,
                                   format_length(s.acoustics.room.width, request.units),
                                   format_length(s.acoustics.room.length, request.units),
                                   format_length(s.acoustics.room.height, request.units),
                                   s.acoustics.room.volume());
    for (const NamedWall& wall : s.acoustics.room.surfaces())
        text += fmt::format(
            "{:<7} {} (absorption {:.2f} at 63 Hz)\n", wall.name, wall.description,
            random_incidence_absorption(wall.wall.admittance(2 * M_PI * 63, s.acoustics.air)));
    text += plan_text(s, request.units);
    text += fmt::format(
        "driver  fs {:.1f} Hz, Qts {:.2f}, Vas {}; levels are {}\n", session.driver.fs,
        session.driver.qts, format_volume(session.driver.vas, request.units),
        session.driver.absolute() ? "absolute, for 2.83 V" : "relative to the passband at 1 m");
    text += fmt::format("seats   {}, subs placed {}, keep-outs {}\n", s.seats.size(),
                        s.placed.subs.size(), s.wanted.keep_outs.size());
    if (s.placed.crossover || !s.placed.mains.empty())
        text += fmt::format(
            "mains   {}, {}\n", s.placed.mains.size(),
            s.placed.crossover
                ? fmt::format("crossover at {:.0f} Hz, {}, order {}", s.placed.crossover->frequency,
                              crossover_name(s.placed.crossover->kind), s.placed.crossover->order)
                : std::string("no crossover: all play full range"));
    text += fmt::format("target  {:.0f} to {:.0f} Hz, {:+.1f} dB/oct; {} frequencies\n",
                        s.judgement.target.band.low, s.judgement.target.band.high,
                        s.judgement.target.slope, s.acoustics.frequency.size());
    text += "\n" + floor_plan_text(s, request.units);
    Answer answer{text,
                  {{"title", s.title},
                   {"seats", s.seats.size()},
                   {"subs", s.placed.subs.size()},
                   {"blocks", s.acoustics.room.plan.blocks.size()},
                   {"spaces", s.acoustics.room.plan.spaces.size()},
                   {"openings", s.acoustics.room.plan.openings.size()},
                   {"solver", session.provenance().solver}}};
    session.finish(answer);
    return answer;
}

double option_value(const char* name, const std::string& text, Quantity quantity) {
    double value = 0;
    try {
        value = parse_quantity(text, quantity);
    } catch (const Error& error) {
        throw Error(name, error.faults().front().what, error.faults().front().mend);
    }
    // Most often the unit was left out: a bare number is SI, here cubic metres.
    if (quantity == Quantity::volume && !(value >= 1e-5 && value <= 10))
        throw Error(name,
                    "a volume must be between 0.01 L and 10 000 L, but \"" + text + "\" is " +
                        fmt::format("{:g} m3", value),
                    "write it with its unit, such as \"38 L\" or \"1.3 ft3\"");
    return value;
}

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

}  // namespace

Answer run_box(const Request& request) {
    // 1. The driver and the box, from the file or from the options.
    Air air;
    Driver driver;
    double filling = 1;
    std::vector<std::string> warnings;
    std::optional<ClosedBox> box;
    if (!request.file.empty()) {
        Session session(request);
        air = session.scenario.acoustics.air, driver = session.driver,
        filling = session.scenario.design.filling;
        warnings = session.warnings;
        if (!request.qtc && !request.volume) box = chosen_box(session.scenario, driver, warnings);
    } else {
        driver = complete_driver(sheet_from_options(request), air);
        warnings = driver.warnings;
        if (!request.qtc && !request.volume)
            throw Error("box", "neither --qtc nor --volume is given", "add --qtc 0.707, say");
    }
    if (request.qtc && request.volume)
        throw Error("box", "--qtc and --volume are both given", "give one of them");
    if (request.filling) filling = option_value("--filling", *request.filling, Quantity::plain);
    if (request.qtc)
        box = closed_box_for_qtc(driver, option_value("--qtc", *request.qtc, Quantity::plain),
                                 filling);
    if (request.volume)
        box = closed_box(driver, option_value("--volume", *request.volume, Quantity::volume),
                         filling);

    // 2. What it does.
    Answer answer;
    answer.json = {{"fc_hz", box->fc},
                   {"qtc", box->qtc},
                   {"volume_l", box->volume * 1e3},
                   {"f3_hz", box->f3()},
                   {"peak_db", box->peak_db()},
                   {"apparent_volume_l", box->apparent_volume * 1e3},
                   {"overshoot_percent", 100 * box->displacement_overshoot()}};
    answer.text = fmt::format(
        "volume  {} net ({} apparent)\nQtc     {:.2f}: {}\nfc      {:.1f} Hz\nF3      {:.1f} Hz\n"
        "peak    {:.1f} dB\ncone    overshoots a step by {:.0f} %\n",
        format_volume(box->volume, request.units),
        format_volume(box->apparent_volume, request.units), box->qtc, verdict(box->qtc), box->fc,
        box->f3(), box->peak_db(), 100 * box->displacement_overshoot());
    if (const auto eta = reference_efficiency(driver, air)) {
        answer.json["efficiency"] = *eta;
        answer.json["spl_1w_1m_db"] = *spl_1w_1m_db(driver, air);
        answer.text += fmt::format("level   {:.1f} dB for 1 W at 1 m in half space\n",
                                   *spl_1w_1m_db(driver, air));
    }
    // 3. The curves, where a folder is named for them.
    if (!request.out.empty()) {
        const InputFiles inputs = input_files(request);
        ResultsFolder results(request.out, request.command, inputs);
        results.write("box_response.csv", response_csv(*box));
        results.write("box_time.csv", time_csv(*box));
        results.commit();
        answer.text += "Curves in " + request.out + "\n";
    }
    answer.json["timing_s"] = nlohmann::ordered_json::object();
    answer.json["warnings"] = warnings;
    if (!request.quiet)
        for (const std::string& w : warnings) fmt::print(stderr, "note: {}\n", w);
    return answer;
}

Answer run_modes(const Request& request) {
    Session session(request);
    const double start = seconds_now();
    session.say("finding the modes", 0.1);
    const auto modes = room_modes(session.scenario.acoustics.room, session.scenario.acoustics.air,
                                  session.scenario.acoustics.frequency.back());
    if (!session.scenario.acoustics.room.plan.openings.empty())
        session.warnings.push_back("these are the modes with the openings shut");
    session.timings["solve"] = seconds_now() - start;

    Answer answer;
    answer.json["modes"] = nlohmann::ordered_json::array();
    answer.text = "order      frequency   decay time (60 dB)      Q\n";
    std::vector<double> decay;
    for (const Mode& m : modes) {
        answer.json["modes"].push_back({{"order", m.order},
                                        {"frequency_hz", m.frequency},
                                        {"decay_time_s", m.decay_time},
                                        {"q", m.q}});
        answer.text +=
            fmt::format("({},{},{})    {:7.1f} Hz   {:10.2f} s      {:8.1f}\n", m.order[0],
                        m.order[1], m.order[2], m.frequency, m.decay_time, m.q);
        decay.push_back(m.decay_time);
    }
    // Schroeder's frequency from the middle decay time of the modes: 2000 sqrt(T/V).
    double schroeder = 0;
    if (!decay.empty()) {
        std::nth_element(decay.begin(), decay.begin() + decay.size() / 2, decay.end());
        schroeder =
            2000 * std::sqrt(decay[decay.size() / 2] / session.scenario.acoustics.room.volume());
    } else {
        session.warnings.push_back("no mode lies in the analysed band");
    }
    answer.json["schroeder_hz"] = schroeder;
    answer.text += fmt::format("Single modes matter up to about {:.0f} Hz.\n", schroeder);
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
