#include "measured/heard_table.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "measured/curve.hpp"

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

void read_level_curve(HeardCurve& out, const Recording& recording, const ReadTable& read) {
    const Curve curve =
        parse_curve(read(recording.curve), recording.curve.string(), {"level_db", -400, 400});
    for (const std::string& note : curve.notes) out.notes.push_back(recording.name + ": " + note);
    for (const double f : out.frequency) {
        bool inside = false;
        out.level_db.push_back(read_off(curve, f, inside));
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
            out.level_db[f] += read_off(correction, out.frequency[f], inside);
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
