#include "woofer/driver.hpp"

#include <cmath>
#include <cstdio>
#include <numbers>

#include "base/error.hpp"

namespace boxroom {
namespace {

void require_positive(const DriverSheet& s) {
    std::vector<Fault> faults;
    const auto look = [&](const char* name, double value) {
        if (!(value > 0) || !std::isfinite(value))
            faults.push_back({"[driver]", std::string(name) + " must be a number above zero",
                              "copy it from the driver's data sheet"});
    };
    look("fs", s.fs), look("qts", s.qts), look("vas", s.vas);
    const std::pair<const char*, const std::optional<double>*> optional[] = {
        {"qes", &s.qes},   {"qms", &s.qms}, {"re", &s.re},   {"sd", &s.sd},
        {"xmax", &s.xmax}, {"bl", &s.bl},   {"mms", &s.mms}, {"power", &s.power}};
    for (const auto& [name, value] : optional)
        if (*value) look(name, **value);
    if (s.le && (!(*s.le >= 0) || !std::isfinite(*s.le)))
        faults.push_back(
            {"[driver]", "le must be zero or a number above", "leave le out if unknown"});
    if (faults.empty() && s.qes && !(s.qts < *s.qes))
        faults.push_back({"[driver]", "qts is not below qes",
                          "Qts = Qes Qms/(Qes + Qms) is always below both: check the sheet"});
    if (faults.empty() && s.qms && !(s.qts < *s.qms))
        faults.push_back({"[driver]", "qts is not below qms",
                          "Qts = Qes Qms/(Qes + Qms) is always below both: check the sheet"});
    if (!faults.empty()) throw Error(faults);
}

/// Keeps a given value and warns where it contradicts `implied`; fills it in where it is missing.
void settle(const char* name, std::optional<double>& value, double implied, const char* from,
            std::vector<std::string>& warnings) {
    if (!value) {
        value = implied;
        return;
    }
    const double off = std::abs(*value / implied - 1);
    if (off <= 0.05) return;
    char text[160];
    std::snprintf(text, sizeof text, "%s %.4g disagrees with %s, which give %.4g (%.0f %%)", name,
                  *value, from, implied, 100 * off);
    warnings.push_back(text);
}

}  // namespace

Driver complete_driver(const DriverSheet& sheet, const Air& air) {
    require_positive(sheet);
    Driver d;
    d.fs = sheet.fs, d.qts = sheet.qts, d.vas = sheet.vas;
    d.qes = sheet.qes, d.qms = sheet.qms, d.re = sheet.re, d.le = sheet.le, d.sd = sheet.sd;
    d.xmax = sheet.xmax, d.bl = sheet.bl, d.mms = sheet.mms, d.power = sheet.power;
    const double omega = 2 * std::numbers::pi * d.fs;
    const double stiffness_of_air = air.density * air.speed_of_sound * air.speed_of_sound;

    // 1. The mass decides most of the rest. From the spring, if the cone's area is known, else from
    //    the motor, else not at all; and once it is known, the area follows in turn.
    const auto qes_from_qs = [&] { return d.qts * *d.qms / (*d.qms - d.qts); };
    if (d.sd)
        settle("Mms", d.mms, stiffness_of_air * *d.sd * *d.sd / (d.vas * omega * omega),
               "fs, Vas and Sd", d.warnings);
    else if (!d.mms && d.bl && d.re && (d.qes || d.qms))
        d.mms = (d.qes ? *d.qes : qes_from_qs()) * *d.bl * *d.bl / (omega * *d.re);
    if (d.mms && !d.sd) d.sd = omega * std::sqrt(d.vas * *d.mms / stiffness_of_air);

    // 2. The Qs: Qes = w Mms Re/Bl^2, 1/Qts = 1/Qes + 1/Qms.
    const bool qes_is_given = d.qes.has_value();
    if (d.mms && d.re && d.bl)
        settle("Qes", d.qes, omega * *d.mms * *d.re / (*d.bl * *d.bl), "fs, Mms, Re and Bl",
               d.warnings);
    if (d.qes && d.qms) {
        std::optional<double> qts = d.qts;
        const char* from = qes_is_given ? "Qes and Qms" : "Qms and the motor (fs, Mms, Re, Bl)";
        settle("Qts", qts, *d.qes * *d.qms / (*d.qes + *d.qms), from, d.warnings);
    }
    if (d.qms && !d.qes) d.qes = qes_from_qs();
    if (d.qes && !d.qms) {
        if (*d.qes > d.qts) {
            d.qms = d.qts * *d.qes / (*d.qes - d.qts);
        } else {  // only a Qes computed from the motor gets here: a given one was refused above
            char text[200];
            std::snprintf(
                text, sizeof text,
                "Qts %.4g disagrees with fs, Mms, Re and Bl, which give Qes %.4g: Qes must "
                "be above Qts, so no Qms follows and levels stay relative",
                d.qts, *d.qes);
            d.warnings.push_back(text);
        }
    }

    // 3. What is left. The mass decides the compliance, so that fs stays as given.
    if (d.mms) d.cms = 1 / (omega * omega * *d.mms);
    if (d.mms && d.re && d.qes && !d.bl) d.bl = std::sqrt(omega * *d.mms * *d.re / *d.qes);
    if (d.mms && d.bl && d.qes && !d.re) d.re = *d.qes * *d.bl * *d.bl / (omega * *d.mms);
    if (d.mms && d.qms) d.rms = omega * *d.mms / *d.qms;
    return d;
}

}  // namespace boxroom
