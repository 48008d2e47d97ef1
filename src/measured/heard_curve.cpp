#include "measured/heard_curve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/error.hpp"
#include "base/levels.hpp"
#include "measured/curve.hpp"
#include "measured/response.hpp"

namespace boxroom {
namespace {

constexpr double widest_gap = 1.0 / 6;  ///< [octaves] over which a curve is read off

/// A curve between its points, straight over ln f; `inside` says whether there are points near.
double read_off(const Curve& curve, double f, bool& inside) {
    const auto& x = curve.frequency;
    const auto above = std::lower_bound(x.begin(), x.end(), f);
    const auto i = static_cast<std::size_t>(above - x.begin());
    inside = false;
    if (i == x.size()) return curve.value.back();
    if (x[i] == f) {
        inside = true;
        return curve.value[i];
    }
    if (i == 0) return curve.value.front();
    inside = std::log2(x[i] / x[i - 1]) <= widest_gap;
    const double share = std::log(f / x[i - 1]) / std::log(x[i] / x[i - 1]);
    return curve.value[i - 1] + share * (curve.value[i] - curve.value[i - 1]);
}

void read_level_curve(HeardCurve& out, const Recording& recording) {
    const Curve curve = read_curve(recording.curve, {"level_db", -400, 400});
    for (const std::string& note : curve.notes) out.notes.push_back(recording.name + ": " + note);
    for (const double f : out.frequency) {
        bool inside = false;
        out.level_db.push_back(read_off(curve, f, inside));
        out.doubt_db.push_back(curve_doubt_db);
        out.trusted.push_back(inside);
    }
}

void read_sweep(HeardCurve& out, const Recording& recording) {
    const MeasuredResponse response =
        measured_response(read_sound(recording.sound, recording.channel), Sweep{}, out.frequency,
                          recording.sound.string());
    out.notes = response.notes;
    for (std::size_t f = 0; f < out.frequency.size(); ++f) {
        out.level_db.push_back(response.level_db(f));
        const double doubt = response.doubt_db(f);
        out.doubt_db.push_back(std::isfinite(doubt) ? doubt : curve_doubt_db);
        out.trusted.push_back(response.trusted(f));
    }
}

void correct(HeardCurve& out, const Microphone& microphone) {
    if (microphone.calibration.empty()) return;
    const Curve correction = read_curve(microphone.calibration, {"correction_db", -100, 100});
    for (std::size_t f = 0; f < out.frequency.size(); ++f) {
        bool inside = false;  // calibrations have wide steps and flat ends: beyond them it stays
        out.level_db[f] += read_off(correction, out.frequency[f], inside);
    }
}

}  // namespace

bool HeardCurve::any_trusted() const {
    return std::find(trusted.begin(), trusted.end(), 1) != trusted.end();
}

HeardCurve heard_curve(const Recording& recording, const Microphone& microphone,
                       std::span<const double> frequency) {
    HeardCurve out;
    out.recording = recording;
    out.frequency.assign(frequency.begin(), frequency.end());
    if (recording.sound.empty())
        read_level_curve(out, recording);
    else
        read_sweep(out, recording);
    correct(out, microphone);
    out.absolute = microphone.absolute && recording.sound.empty();
    if (microphone.absolute && !recording.sound.empty())
        out.notes.push_back(recording.name +
                            ": a recording has no absolute level, so only its shape counts");
    if (!out.any_trusted())
        throw Error(recording.name, "no frequency of the analysis can be trusted in this recording",
                    "measure 10 to 200 Hz, louder or with less noise");
    return out;
}

double best_offset(const HeardCurve& measured, std::span<const double> predicted,
                   std::span<const double> weight) {
    double sum = 0, all = 0;
    for (std::size_t f = 0; f < predicted.size(); ++f) {
        if (!measured.trusted[f]) continue;
        sum += weight[f] * (predicted[f] - measured.level_db[f]);
        all += weight[f];
    }
    return all > 0 ? sum / all : std::numeric_limits<double>::quiet_NaN();
}

double apart_db(const HeardCurve& measured, std::span<const double> predicted,
                std::span<const double> weight, double offset) {
    double sum = 0, all = 0;
    for (std::size_t f = 0; f < predicted.size(); ++f) {
        if (!measured.trusted[f]) continue;
        const double off = measured.level_db[f] + offset - predicted[f];
        sum += weight[f] * off * off;
        all += weight[f];
    }
    return all > 0 ? std::sqrt(sum / all) : std::numeric_limits<double>::quiet_NaN();
}

HeardCurve smoothed(HeardCurve curve, double octaves) {
    std::vector<double> level = curve.level_db;
    const double reach = std::exp2(octaves / 2) * (1 + 1e-9);
    const auto& f = curve.frequency;
    for (std::size_t i = 0; i < f.size(); ++i) {
        double sum = 0, all = 0;
        for (std::size_t k = 0; k < f.size(); ++k) {
            if (f[k] * reach < f[i] || f[k] > f[i] * reach || !curve.trusted[k]) continue;
            // Half the way to both neighbours, in ln f: points need not lie evenly.
            const double cell = std::log(f[std::min(k + 1, f.size() - 1)] / f[k > 0 ? k - 1 : 0]);
            sum += cell * power_of_db(curve.level_db[k]);
            all += cell;
        }
        if (all > 0) level[i] = 10 * std::log10(std::max(sum / all, 1e-40));
    }
    curve.level_db = std::move(level);
    return curve;
}

}  // namespace boxroom
