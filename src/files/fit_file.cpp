#include "files/fit_file.hpp"

#include <cmath>

#include "files/results_head.hpp"

namespace boxroom {
namespace {

std::vector<double> flat(const std::vector<std::vector<double>>& rows) {
    std::vector<double> all;
    for (const auto& row : rows) all.insert(all.end(), row.begin(), row.end());
    return all;
}

void write_recordings(Hdf5Writer& file, const RoomFit& fit, const std::vector<HeardCurve>& heard) {
    std::vector<std::string> names;
    std::vector<double> place, measured;
    for (const HeardCurve& curve : heard) {
        const Recording& r = curve.recording;
        names.push_back(r.name);
        place.insert(place.end(), {r.at.x, r.at.y, r.at.z});
        for (std::size_t f = 0; f < curve.frequency.size(); ++f)
            measured.push_back(curve.trusted[f] ? curve.level_db[f] : std::nan(""));
    }
    const Hdf5Writer::Shape shape{heard.size(), heard.front().frequency.size()};
    file.texts("/recordings/name", names, {"1", "file of each recording"});
    file.numbers("/recordings/position", place, {heard.size(), 3}, {"m", "of the microphone"});
    file.numbers("/recordings/measured", measured, shape,
                 {"dB", "level; NaN where it cannot be trusted"});
    file.numbers("/recordings/before", flat(fit.before_db), shape,
                 {"dB", "predicted by the room file, the recording's gain included"});
    file.numbers("/recordings/after", flat(fit.after_db), shape,
                 {"dB", "predicted by the fitted room, the recording's gain included"});
    file.numbers("/recordings/doubt", flat(fit.doubt_db), shape,
                 {"dB", "one standard deviation of `after`"});
}

/// What lies between each recording and the model.
void write_chains(Hdf5Writer& file, const RoomFit& fit) {
    std::vector<double> gain, delay;
    std::vector<std::uint8_t> inverted;
    for (const FoundRecording& one : fit.recordings) {
        gain.push_back(one.gain_db);
        delay.push_back(one.timing ? one.timing->delay_s : std::nan(""));
        inverted.push_back(one.timing && one.timing->inverted);
    }
    file.numbers("/recordings/gain", gain, {gain.size()}, {"dB", "measured less predicted"});
    file.numbers("/recordings/delay", delay, {gain.size()},
                 {"s", "measured later than predicted, by its own clock; NaN: not told"});
    file.flags("/recordings/inverted", inverted, {gain.size()},
               {"1", "1: the other way round than predicted"});
}

void write_parameters(Hdf5Writer& file, const RoomFit& fit) {
    std::vector<std::string> names, units;
    std::vector<double> low, best, high, prior_low, prior_high;
    std::vector<std::uint8_t> apart;
    for (const FittedParameter& p : fit.parameters) {
        names.push_back(p.name), units.push_back(p.unit);
        low.push_back(p.found.low), best.push_back(p.found.best), high.push_back(p.found.high);
        prior_low.push_back(p.prior.low), prior_high.push_back(p.prior.high);
        apart.push_back(p.told_apart);
    }
    const Hdf5Writer::Shape shape{names.size()};
    file.texts("/parameters/name", names, {"1", "what was free"});
    file.texts("/parameters/unit", units, {"1", "of its values"});
    file.numbers("/parameters/low", low, shape, {"1", "5 % lie below"});
    file.numbers("/parameters/best", best, shape, {"1", "likeliest"});
    file.numbers("/parameters/high", high, shape, {"1", "5 % lie above"});
    file.numbers("/parameters/prior_low", prior_low, shape, {"1", "low, before measuring"});
    file.numbers("/parameters/prior_high", prior_high, shape, {"1", "high, before measuring"});
    file.flags("/parameters/told_apart", apart, shape, {"1", "1: its doubt is halved at least"});
}

void write_seats(Hdf5Writer& file, const std::string& group, const std::vector<SeatMisfit>& all) {
    if (all.empty()) return;
    std::vector<std::string> names;
    std::vector<double> before, after;
    for (const SeatMisfit& seat : all) {
        names.push_back(seat.name);
        before.push_back(seat.before_db), after.push_back(seat.after_db);
    }
    file.texts(group + "/name", names, {"1", "seat"});
    file.numbers(group + "/before", before, {names.size()}, {"dB", "RMS error of the room file"});
    file.numbers(group + "/after", after, {names.size()}, {"dB", "RMS error after the fit"});
}

}  // namespace

std::string fit_hdf5(const RoomFit& fit, const std::vector<HeardCurve>& heard,
                     const Provenance& provenance) {
    Hdf5Writer file;
    write_provenance(file, "fit", provenance);
    const auto& frequency = heard.front().frequency;
    file.numbers("/frequency", frequency, {frequency.size()}, {"Hz", "of the fit"});
    write_recordings(file, fit, heard);
    write_chains(file, fit);
    write_parameters(file, fit);
    write_seats(file, "/seats", fit.seats);
    write_seats(file, "/left_out", fit.left_out);
    file.number("/discrepancy", fit.discrepancy_db,
                {"dB", "one standard deviation of what the model leaves out"});
    return file.take();
}

}  // namespace boxroom
