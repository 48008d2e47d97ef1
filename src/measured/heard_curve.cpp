#include "measured/heard_curve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/levels.hpp"
#include "measured/curve.hpp"
#include "measured/heard_table.hpp"
#include "measured/response.hpp"

namespace boxroom {
namespace {

void read_sweep(HeardCurve& out, const Recording& recording) {
    const MeasuredResponse response =
        measured_response(read_sound(recording.sound, recording.channel), Sweep{}, out.frequency,
                          recording.sound.string());
    out.notes = response.notes;
    out.start_s = response.start;
    for (std::size_t f = 0; f < out.frequency.size(); ++f) {
        out.level_db.push_back(response.level_db(f));
        out.phase.push_back(std::arg(response.value[f]));
        const double doubt = response.doubt_db(f);
        out.doubt_db.push_back(std::isfinite(doubt) ? doubt : curve_doubt_db);
        out.trusted.push_back(response.trusted(f));
    }
}

}  // namespace

bool HeardCurve::any_trusted() const {
    return std::find(trusted.begin(), trusted.end(), 1) != trusted.end();
}

HeardCurve heard_curve(const Recording& recording, const Microphone& microphone,
                       std::span<const double> frequency) {
    if (recording.sound.empty()) return heard_table(recording, microphone, frequency, read_table);
    HeardCurve out;
    out.recording = recording;
    out.frequency.assign(frequency.begin(), frequency.end());
    read_sweep(out, recording);
    if (microphone.absolute)
        out.notes.push_back(recording.name +
                            ": a recording has no absolute level, so only its shape counts");
    correct_heard(out, microphone, read_table);
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
