#include "room_file/scenario_reader.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {

void ScenarioReader::read_score() {
    TableReader score = root_.table("score", "[score]");
    ScoreWeights& w = s_.judgement.weights;
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

/// [search], [settings] and [robustness]: several subs.
void ScenarioReader::read_search() {
    TableReader search = root_.table("search", "[search]");
    const Limits count{1, 4, "a whole number from 1 to 4"};
    if (const auto subs = search.numbers("subs", Quantity::plain, 0, count)) {
        for (const double value : *subs) {
            if (value != std::floor(value)) {
                search.fault("subs", "[search] subs holds a number that is not whole",
                             "write for example subs = [1, 2, 4]");
                break;
            }
            s_.wanted.sub_counts.push_back(static_cast<int>(value));
        }
        std::ranges::sort(s_.wanted.sub_counts);
        const auto again = std::ranges::unique(s_.wanted.sub_counts);
        s_.wanted.sub_counts.erase(again.begin(), again.end());
    }
    if (const auto volumes = search.numbers("volumes", Quantity::volume, 0, volume_limits()))
        s_.wanted.set_volumes = *volumes;
    std::ranges::sort(s_.wanted.set_volumes);
    if (std::ranges::adjacent_find(s_.wanted.set_volumes) != s_.wanted.set_volumes.end())
        search.fault("volumes", "[search] volumes names a volume twice", "write each once");
    search.close();

    TableReader settings = root_.table("settings", "[settings]");
    SettingSteps& steps = s_.wanted.steps;
    steps.gain =
        settings
            .number("gain_step", Quantity::level, {0.01, 6, "between 0.01 dB and 6 dB"}, steps.gain)
            .value;
    steps.delay = settings
                      .number("delay_step", Quantity::time,
                              {1e-5, 0.01, "between 0.01 ms and 10 ms"}, steps.delay)
                      .value;
    steps.lowest_gain = settings
                            .number("lowest_gain", Quantity::level,
                                    {-60, 0, "between -60 dB and 0 dB"}, steps.lowest_gain)
                            .value;
    steps.longest_delay = settings
                              .number("longest_delay", Quantity::time,
                                      {0, 0.1, "between 0 ms and 100 ms"}, steps.longest_delay)
                              .value;
    settings.close();

    TableReader robustness = root_.table("robustness", "[robustness]");
    Uncertainty& u = s_.judgement.uncertainty;
    u.draws = robustness.whole_number("draws", 0, 100000).value_or(u.draws);
    u.seed = static_cast<std::uint64_t>(robustness.whole_number("seed", 0, 1000000000).value_or(1));
    const Limits place{0, 0.5, "between 0 m and 0.5 m"};
    u.seat = robustness.number("seat", Quantity::length, place, u.seat).value;
    u.sub = robustness.number("sub", Quantity::length, place, u.sub).value;
    u.room = robustness.number("room", Quantity::length, {0, 0.2, "between 0 m and 0.2 m"}, u.room)
                 .value;
    u.wall =
        robustness.number("wall", Quantity::plain, {1, 10, "a factor between 1 and 10"}, u.wall)
            .value;
    u.driver =
        robustness
            .number("driver", Quantity::plain, {0, 0.5, "a share between 0 and 0.5"}, u.driver)
            .value;
    robustness.close();
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
    const auto per_octave = analysis.whole_number("per_octave", 3, 192);
    const auto listed = analysis.numbers("frequencies", Quantity::frequency, 0, audible);
    s_.placed.cone_load = analysis.yes_or_no("cone_load").value_or(false);
    analysis.close();
    s_.judgement.target.band = read_band(target, s_.judgement.target.band, target_given);
    s_.judgement.target.slope =
        target.number("slope", Quantity::slope, {-24, 24, "between -24 and 24 dB/oct"}).value;
    s_.judgement.target.indifference =
        target.number("indifference", Quantity::level, {0, 20, "between 0 dB and 20 dB"}, 0.5)
            .value;
    s_.judgement.target.level =
        target.optional("level", Quantity::level, {40, 150, "between 40 dB and 150 dB"});
    s_.judgement.target.down_to = target.optional("down_to", Quantity::frequency, audible);
    target.close();

    if (listed) {
        for (std::size_t i = 1; i < listed->size(); ++i)
            if (!((*listed)[i] > (*listed)[i - 1])) {
                analysis.fault("frequencies", "[analysis] frequencies do not rise",
                               "write them in rising order, each once");
                return;
            }
        s_.acoustics.frequency = *listed;
    } else {
        s_.acoustics.frequency = logarithmic_grid(band, per_octave.value_or(48));
        s_.acoustics.resolved = !analysis.has("per_octave") && !analysis.has("frequencies");
    }
    if (analysis.has("frequencies") && !listed) return;
    if (analysis.has("band") && !band_given) return;
    fit_target(target, analysis, target_given, listed.has_value(), band);
}

/// The target band must be analysed: with a band the whole of it, with a list one point of it.
void ScenarioReader::fit_target(TableReader& target, TableReader& analysis, bool given, bool listed,
                                Band band) {
    if (target.has("band") && !given) return;
    Band& wanted = s_.judgement.target.band;
    if (s_.judgement.target.down_to &&
        !(*s_.judgement.target.down_to >= wanted.low && *s_.judgement.target.down_to < wanted.high))
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
    for (double f : s_.acoustics.frequency)
        if (wanted.contains(f)) return;
    TableReader& at = given ? target : analysis;
    at.fault(given    ? "band"
             : listed ? "frequencies"
                      : "band",
             "no analysed frequency lies in the [target] band",
             "set [target] band to lie among the analysed frequencies");
}

}  // namespace boxroom
