// driver: parameters of a driver, or of a finished box, from impedance curves.
#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "answers/option_value.hpp"
#include "app/measured_commands.hpp"
#include "app/session.hpp"
#include "base/error.hpp"
#include "files/csv.hpp"
#include "measured/driver_parameters.hpp"

namespace boxroom {

namespace {

const CurveColumn impedance_column{"impedance_ohm", 1e-3, 1e5};

/// A curve read and fitted; what was mended in it goes into the notes.
CircuitFit fitted(const std::string& path, std::vector<std::string>& notes) {
    const Curve curve = read_curve(path, impedance_column);
    for (const std::string& note : curve.notes) notes.push_back(path + ": " + note);
    return fit_circuit(curve, path);
}

double checked(const char* name, const std::string& text, Quantity quantity, double low,
               double high, const char* mend) {
    const double value = option_value(name, text, quantity);
    if (value >= low && value <= high) return value;
    throw Error(name, "\"" + text + "\" is outside what can be", mend);
}

void require_pairs(const DriverOptions& r) {
    const auto together = [](const char* one, bool has_one, const char* other, bool has_other) {
        if (has_one != has_other)
            throw Error(has_one ? one : other,
                        std::string("this needs ") + (has_one ? other : one) + " beside it",
                        std::string("give both ") + one + " and " + other);
    };
    together("--box", r.box.has_value(), "--boxed", r.boxed.has_value());
    together("--mass", r.mass.has_value(), "--weighed", r.weighed.has_value());
    if (r.in_box && (r.box || r.mass))
        throw Error("--in-box", "a finished box is read from one curve alone",
                    "leave --box and --mass out");
    if (!r.in_box && r.qtc)
        throw Error("--qtc", "the Qtc wanted is for --in-box", "add --in-box or leave --qtc out");
}

void put(nlohmann::ordered_json& json, const std::string& key, const std::optional<Interval>& value,
         double unit = 1) {
    if (!value) return;
    json[key] = value->best * unit;
    json[key + "_low"] = value->low * unit;
    json[key + "_high"] = value->high * unit;
}

/// As many decimals as the doubt leaves meaning: its first digit, and the next where that is a 1.
int meaning_decimals(const Interval& value, double unit) {
    const double doubt =
        std::max((value.high - value.low) * unit / 2, std::abs(value.best) * unit * 1e-4);
    if (!(doubt > 0)) return 2;
    return std::clamp(1 - static_cast<int>(std::floor(std::log10(doubt) + 0.3)), 0, 4);
}

std::string line(const char* name, const std::optional<Interval>& value, double unit,
                 const char* words) {
    if (!value) return {};
    const int decimals = meaning_decimals(*value, unit);
    return fmt::format("{:<5} {:.{}f}{}  ({:.{}f} to {:.{}f})\n", name, value->best * unit,
                       decimals, words, value->low * unit, decimals, value->high * unit, decimals);
}

/// Four digits: what is pasted shall give back what was measured.
std::string to_paste(const DriverParameters& p) {
    std::string text =
        fmt::format("[driver]\nfs = \"{:.4g} Hz\"\nqts = {:.4g}\n", p.fs.best, p.qts.best);
    text +=
        p.vas ? fmt::format("vas = \"{:.4g} L\"\n", 1e3 * p.vas->best)
              : "# vas = \"38 L\"   # not measured: --box with --boxed, or --mass with --weighed\n";
    text += fmt::format("qes = {:.4g}\nqms = {:.4g}\nre = \"{:.4g} ohm\"\n", p.qes.best, p.qms.best,
                        p.re.best);
    const double le = p.semi > 0 ? p.le_at_100_hz : p.le.best;
    text += fmt::format("le = \"{:.4g} mH\"{}\n", 1e3 * le,
                        p.semi > 0 ? "   # as the coil acts at 100 Hz" : "");
    if (p.sd) text += fmt::format("sd = \"{:.4g} cm2\"\n", 1e4 * p.sd->best);
    if (p.mms) text += fmt::format("mms = \"{:.4g} g\"\n", 1e3 * p.mms->best);
    if (p.bl) text += fmt::format("bl = \"{:.4g} T m\"\n", p.bl->best);
    return text;
}

/// Measured and fitted, for a plot.
std::string fit_csv(const CircuitFit& fit) {
    Csv csv;
    for (const char* name : {"frequency_hz", "measured_ohm", "fitted_ohm", "fitted_phase_deg"})
        csv.field(name);
    csv.end_row();
    for (std::size_t i = 0; i < fit.used.frequency.size(); ++i) {
        const auto z = fit.circuit.impedance(fit.used.frequency[i]);
        csv.number(fit.used.frequency[i]);
        csv.number(fit.used.value[i]);
        csv.number(std::abs(z));
        csv.number(std::arg(z) * 180 / M_PI);
        csv.end_row();
    }
    return csv.take();
}

DriverCurves read_curves(const std::string& file, const DriverOptions& r,
                         std::vector<std::string>& notes) {
    DriverCurves curves;
    curves.free = fitted(file, notes);
    if (r.box) {
        curves.box_volume = option_value("--box", *r.box, Quantity::volume);
        curves.boxed = fitted(*r.boxed, notes);
    }
    if (r.mass) {
        curves.added_mass = checked("--mass", *r.mass, Quantity::mass, 1e-5, 5,
                                    "write it with its unit, such as \"20 g\"");
        curves.weighed = fitted(*r.weighed, notes);
    }
    if (r.sd)
        curves.sd = checked("--sd", *r.sd, Quantity::area, 1e-4, 2,
                            "write it with its unit, such as \"220 cm2\"");
    return curves;
}

void answer_driver(const DriverCurves& curves, Answer& answer, std::vector<std::string>& notes) {
    const DriverParameters p = driver_parameters(curves, Air{});
    auto& json = answer.json;
    put(json, "fs_hz", p.fs), put(json, "qts", p.qts), put(json, "qes", p.qes);
    put(json, "qms", p.qms), put(json, "vas_l", p.vas, 1e3), put(json, "re_ohm", p.re);
    put(json, "le_h", p.le);
    json["le_at_100_hz_h"] = p.le_at_100_hz, json["semi_inductance"] = p.semi;
    put(json, "vas_by_volume_l", p.vas_by_volume, 1e3),
        put(json, "vas_by_mass_l", p.vas_by_mass, 1e3);
    put(json, "mms_g", p.mms, 1e3), put(json, "bl_tm", p.bl), put(json, "sd_cm2", p.sd, 1e4);
    json["scatter_percent"] = 100 * curves.free.scatter;
    DriverParameters pasted = p;
    if (curves.sd) pasted.sd = Interval{*curves.sd, *curves.sd, *curves.sd};
    json["toml"] = to_paste(pasted);
    notes.insert(notes.end(), p.notes.begin(), p.notes.end());

    answer.text = to_paste(pasted) + "\n90 % of the doubt that the curve leaves:\n" +
                  line("fs", p.fs, 1, " Hz") + line("Qts", p.qts, 1, "") +
                  line("Qes", p.qes, 1, "") + line("Qms", p.qms, 1, "") +
                  line("Re", p.re, 1, " ohm") + line("Le", p.le, 1e3, " mH") +
                  line("Vas", p.vas, 1e3, " L");
    if (p.vas_by_volume) answer.text += "      Vas by the known volume (Small 1972)\n";
    if (p.vas_by_mass) answer.text += "      Vas by the added mass (handbook method)\n";
    answer.text +=
        line("Mms", p.mms, 1e3, " g") + line("Bl", p.bl, 1, " T m") + line("Sd", p.sd, 1e4, " cm2");
    if (p.vas || p.mms)
        answer.text +=
            "      taken to be right within one part in fifty: volume, Sd; in a hundred: mass\n";
}

void answer_box(const DriverOptions& options, const CircuitFit& fit, Answer& answer) {
    const double wanted =
        options.qtc ? checked("--qtc", *options.qtc, Quantity::plain, 0.3, 2, "0.5 to 1.2 is usual")
                    : std::sqrt(0.5);
    const FinishedBox box = finished_box(fit, wanted);
    auto& json = answer.json;
    put(json, "fc_hz", box.fc), put(json, "qtc", box.qtc), put(json, "qec", box.qec);
    put(json, "qmc", box.qmc), put(json, "re_ohm", box.re), put(json, "le_h", box.le);
    json["wanted_qtc"] = wanted;
    json["advice"] = box.advice;
    answer.text = line("fc", box.fc, 1, " Hz") + line("Qtc", box.qtc, 1, "") +
                  line("Qec", box.qec, 1, "") + line("Qmc", box.qmc, 1, "") +
                  line("Re", box.re, 1, " ohm") + box.advice + '\n';
}

}  // namespace

Answer run_driver(const Request& request, const DriverOptions& options) {
    require_pairs(options);
    Answer answer;
    std::vector<std::string> notes;
    answer.json = nlohmann::ordered_json::object();
    DriverCurves curves;
    if (options.in_box) {
        curves.free = fitted(request.file, notes);
        answer_box(options, curves.free, answer);
    } else {
        curves = read_curves(request.file, options, notes);
        answer_driver(curves, answer, notes);
    }
    if (!request.out.empty()) {
        InputFiles inputs = input_files(request);
        for (const auto& curve : {options.boxed, options.weighed})
            if (curve) inputs.add(*curve);
        ResultsFolder results(request.out, request.command, inputs);
        results.write("impedance.csv", fit_csv(curves.free));
        if (!options.in_box) results.write("driver.toml", answer.json["toml"].get<std::string>());
        results.commit();
        answer.text += "Curve and table in " + request.out + "\n";
    }
    answer.json["timing_s"] = nlohmann::ordered_json::object();
    answer.json["warnings"] = notes;
    if (!request.quiet)
        for (const std::string& note : notes) say_note(note);
    return answer;
}

}  // namespace boxroom
