#include "io/scenario_reader.hpp"

#include <algorithm>

namespace boxroom {

void ScenarioReader::read_score() {
    TableReader score = root_.table("score", "[score]");
    ScoreWeights& w = s_.weights;
    const Limits any{0, 1e6, "0 or more"};
    w.spread = score.number("spread", Quantity::plain, any, w.spread).value;
    w.unevenness = score.number("unevenness", Quantity::plain, any, w.unevenness).value;
    w.balance = score.number("balance", Quantity::plain, any, w.balance).value;
    w.level = score.number("level", Quantity::plain, any, w.level).value;
    score.close();
    if (!(w.spread + w.unevenness + w.balance + w.level > 0))
        faults_.add(score.line(), "[score] has only weights of 0",
                    "give at least one of spread, unevenness, balance, level a weight above 0");
}

/// A band of two rising frequencies; the fallback where it is missing or wrong.
Band ScenarioReader::read_band(TableReader& table, Band fallback, bool& good) {
    const auto band = table.numbers("band", Quantity::frequency, 2, audible);
    good = band.has_value();
    if (!band) return fallback;
    if ((*band)[0] < (*band)[1]) return {(*band)[0], (*band)[1]};
    good = false;
    table.fault("band", table.title() + " band is upside down", "write the lower frequency first");
    return fallback;
}

void ScenarioReader::read_analysis_and_target() {
    TableReader analysis = root_.table("analysis", "[analysis]");
    TableReader target = root_.table("target", "[target]");
    bool band_given = false, target_given = false;
    const Band band = read_band(analysis, {10, 200}, band_given);
    const int per_octave = analysis.whole_number("per_octave", 3, 192).value_or(48);
    const auto listed = analysis.numbers("frequencies", Quantity::frequency, 0, audible);
    analysis.close();
    s_.target.band = read_band(target, s_.target.band, target_given);
    s_.target.slope =
        target.number("slope", Quantity::slope, {-24, 24, "between -24 and 24 dB/oct"}).value;
    s_.target.indifference =
        target.number("indifference", Quantity::level, {0, 20, "between 0 dB and 20 dB"}, 0.5)
            .value;
    s_.target.level =
        target.optional("level", Quantity::level, {40, 150, "between 40 dB and 150 dB"});
    s_.target.down_to = target.optional("down_to", Quantity::frequency, audible);
    target.close();

    if (listed) {
        for (std::size_t i = 1; i < listed->size(); ++i)
            if (!((*listed)[i] > (*listed)[i - 1])) {
                analysis.fault("frequencies", "[analysis] frequencies do not rise",
                               "write them in rising order, each once");
                return;
            }
        s_.frequency = *listed;
    } else {
        s_.frequency = logarithmic_grid(band, per_octave);
    }
    if (analysis.has("frequencies") && !listed) return;
    if (analysis.has("band") && !band_given) return;
    fit_target(target, analysis, target_given, listed.has_value(), band);
}

/// The target band must be analysed: with a band the whole of it, with a list one point of it.
void ScenarioReader::fit_target(TableReader& target, TableReader& analysis, bool given, bool listed,
                                Band band) {
    if (target.has("band") && !given) return;
    Band& wanted = s_.target.band;
    if (s_.target.down_to &&
        !(*s_.target.down_to >= wanted.low && *s_.target.down_to < wanted.high))
        target.fault("down_to", "[target] down_to lies outside the target band",
                     "choose a frequency within [target] band");
    if (!listed && !(band.contains(wanted.low) && band.contains(wanted.high))) {
        if (given) {
            target.fault("band", "[target] band reaches outside the analysed band",
                         "narrow it, or widen [analysis] band");
            return;
        }
        wanted = {std::max(wanted.low, band.low), std::min(wanted.high, band.high)};
        if (wanted.low < wanted.high)
            s_.warnings.push_back(
                "no [target] band given: judged is the part of 20 Hz to 120 Hz "
                "that [analysis] band leaves");
    }
    for (double f : s_.frequency)
        if (wanted.contains(f)) return;
    TableReader& at = given ? target : analysis;
    at.fault(given    ? "band"
             : listed ? "frequencies"
                      : "band",
             "no analysed frequency lies in the [target] band",
             "set [target] band to lie among the analysed frequencies");
}

}  // namespace boxroom
