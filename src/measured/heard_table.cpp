#include "measured/heard_table.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "measured/curve.hpp"

namespace boxroom {
namespace {

constexpr double widest_gap = 1.0 / 6;  ///< [octaves] over which a curve is read off

/// Values at rising frequencies between these points, straight over ln f; `inside` says whether
/// there are points near.
double read_off(const std::vector<double>& x, const std::vector<double>& value, double f,
                bool& inside) {
    const auto above = std::lower_bound(x.begin(), x.end(), f);
    const auto i = static_cast<std::size_t>(above - x.begin());
    inside = false;
    if (i == x.size()) return value.back();
    if (x[i] == f) {
        inside = true;
        return value[i];
    }
    if (i == 0) return value.front();
    inside = std::log2(x[i] / x[i - 1]) <= widest_gap;
    const double share = std::log(f / x[i - 1]) / std::log(x[i] / x[i - 1]);
    return value[i - 1] + share * (value[i] - value[i - 1]);
}

/// Without its jumps: no step of more than half a turn.
std::vector<double> unwrapped(std::vector<double> phase) {
    for (std::size_t n = 1; n < phase.size(); ++n)
        phase[n] = phase[n - 1] + std::remainder(phase[n] - phase[n - 1], 2 * std::numbers::pi);
    return phase;
}

void read_level_curve(HeardCurve& out, const Recording& recording, const ReadTable& read) {
    const Curve curve =
        parse_curve(read(recording.curve), recording.curve.string(), {"level_db", -400, 400});
    for (const std::string& note : curve.notes) out.notes.push_back(recording.name + ": " + note);
    const std::vector<double> phase = unwrapped(curve.phase);
    for (const double f : out.frequency) {
        bool inside = false;
        out.level_db.push_back(read_off(curve.frequency, curve.value, f, inside));
        if (curve.has_phase()) out.phase.push_back(read_off(curve.frequency, phase, f, inside));
        out.doubt_db.push_back(curve_doubt_db);
        out.trusted.push_back(inside);
    }
}

}  // namespace

void correct_heard(HeardCurve& out, const Microphone& microphone, const ReadTable& read) {
    if (!microphone.calibration.empty()) {
        const Curve correction =
            parse_curve(read(microphone.calibration), microphone.calibration.string(),
                        {"correction_db", -100, 100});
        for (std::size_t f = 0; f < out.frequency.size(); ++f) {
            bool inside = false;  // wide steps and flat ends: beyond them it stays
            out.level_db[f] +=
                read_off(correction.frequency, correction.value, out.frequency[f], inside);
        }
    }
    if (!out.any_trusted())
        throw Error(out.recording.name,
                    "no frequency of the analysis can be trusted in this recording",
                    "measure 10 to 200 Hz, louder or with less noise");
}

HeardCurve heard_table(const Recording& recording, const Microphone& microphone,
                       std::span<const double> frequency, const ReadTable& read) {
    HeardCurve out;
    out.recording = recording;
    out.frequency.assign(frequency.begin(), frequency.end());
    read_level_curve(out, recording, read);
    out.absolute = microphone.absolute;
    correct_heard(out, microphone, read);
    return out;
}

}  // namespace boxroom
