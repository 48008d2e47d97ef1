#include "room_file/judgement_reader.hpp"

#include <algorithm>
#include <functional>

namespace boxroom {
namespace {

/// A band of two rising frequencies; the fallback where it is missing or wrong.
Band read_band(TableReader& table, Band fallback, bool& good) {
    const auto band = table.numbers("band", Quantity::frequency, 2, audible);
    good = band.has_value();
    if (!band) return fallback;
    if ((*band)[0] < (*band)[1]) return {(*band)[0], (*band)[1]};
    good = false;
    table.fault("band", table.title() + " band is upside down", "write the lower frequency first");
    return fallback;
}

bool rising(const std::vector<double>& values) {
    return std::ranges::adjacent_find(values, std::greater_equal<>()) == values.end();
}

/// The target band must be analysed: with a band the whole of it, with a list one point of it.
void fit_target(TableReader& table, Target& target, bool given, const Analysis& analysis,
                const ReadContext& context) {
    Band& wanted = target.band;
    if (target.down_to && !(*target.down_to >= wanted.low && *target.down_to < wanted.high))
        table.fault("down_to", "[target] down_to lies outside the target band",
                    "choose a frequency within [target] band");
    const Band& band = analysis.band;
    if (!analysis.listed && !(band.contains(wanted.low) && band.contains(wanted.high))) {
        if (given) {
            table.fault("band", "[target] band reaches outside the analysed band",
                        "narrow it, or widen [analysis] band");
            return;
        }
        wanted = {std::max(wanted.low, band.low), std::min(wanted.high, band.high)};
        if (wanted.low < wanted.high)
            context.warnings.push_back(
                "no [target] band given: judged is the part of 20 Hz to 120 Hz "
                "that [analysis] band leaves");
    }
    for (const double f : analysis.frequency)
        if (wanted.contains(f)) return;
    context.faults.add(given ? table.line("band") : analysis.line,
                       "no analysed frequency lies in the [target] band",
                       "set [target] band to lie among the analysed frequencies");
}

/// curve = [["20 Hz", "6 dB"], ["80 Hz", "0 dB"]], by rising frequency; empty where it is wrong.
std::vector<TargetPoint> read_curve(TableReader& table) {
    const auto pairs = table.pairs("curve", {Quantity::frequency, Quantity::level},
                                   {audible, Limits{-60, 60, "between -60 dB and 60 dB"}});
    if (!pairs) return {};
    std::vector<TargetPoint> curve;
    for (const auto& [frequency, level] : *pairs) curve.push_back({frequency, level});
    const bool rise = std::ranges::adjacent_find(curve, [](const auto& a, const auto& b) {
                          return a.frequency >= b.frequency;
                      }) == curve.end();
    if (curve.size() == 1 || !rise)
        table.fault("curve", "[target] curve must have two points or more, by rising frequency",
                    "write for example [[\"20 Hz\", \"6 dB\"], [\"80 Hz\", \"0 dB\"]]");
    if (table.has("slope"))
        table.fault("curve", "[target] has both a slope and a curve", "keep one of them");
    return curve.size() > 1 && rise ? curve : std::vector<TargetPoint>{};
}

}  // namespace

ScoreWeights read_score(TableReader& file, const ReadContext& context) {
    TableReader score = file.table("score", "[score]");
    ScoreWeights w;
    const Limits any{0, 1e6, "0 or more"};
    w.spread = score.number("spread", Quantity::plain, any, w.spread).value;
    w.unevenness = score.number("unevenness", Quantity::plain, any, w.unevenness).value;
    w.balance = score.number("balance", Quantity::plain, any, w.balance).value;
    w.level = score.number("level", Quantity::plain, any, w.level).value;
    w.ringing = score.number("ringing", Quantity::plain, any, w.ringing).value;
    score.close();
    if (!(w.spread + w.unevenness + w.balance + w.level + w.ringing > 0))
        context.faults.add(
            score.line(), "[score] has only weights of 0",
            "give at least one of spread, unevenness, balance, level, ringing a weight above 0");
    return w;
}

Analysis read_analysis(TableReader& file) {
    TableReader table = file.table("analysis", "[analysis]");
    Analysis a;
    bool band_given = false;
    a.band = read_band(table, a.band, band_given);
    const auto per_octave = table.whole_number("per_octave", 3, 192);
    const auto listed = table.numbers("frequencies", Quantity::frequency, 0, audible);
    a.cone_load = table.yes_or_no("cone_load").value_or(false);
    table.close();
    a.listed = listed.has_value();
    a.line = table.line(a.listed ? "frequencies" : "band");
    a.good =
        table.has("frequencies") ? a.listed && rising(*listed) : band_given || !table.has("band");
    if (listed && !rising(*listed))
        table.fault("frequencies", "[analysis] frequencies do not rise",
                    "write them in rising order, each once");
    a.frequency = listed ? *listed : logarithmic_grid(a.band, per_octave.value_or(48));
    a.resolved = !table.has("frequencies") && !table.has("per_octave");
    return a;
}

Target read_target(TableReader& file, const Analysis& analysis, const ReadContext& context) {
    TableReader table = file.table("target", "[target]");
    Target target;
    bool given = false;
    target.band = read_band(table, target.band, given);
    target.slope =
        table.number("slope", Quantity::slope, {-24, 24, "between -24 and 24 dB/oct"}).value;
    if (table.has("curve")) target.curve = read_curve(table);
    target.indifference =
        table.number("indifference", Quantity::level, {0, 20, "between 0 dB and 20 dB"}, 0.5).value;
    target.level = table.optional("level", Quantity::level, {40, 150, "between 40 dB and 150 dB"});
    target.down_to = table.optional("down_to", Quantity::frequency, audible);
    table.close();
    if (analysis.good && (given || !table.has("band")))
        fit_target(table, target, given, analysis, context);
    return target;
}

}  // namespace boxroom
