#include "placement/ringing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/number.hpp"
#include "placement/criteria.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;

double heard_share(double mode_db, double average_db) {
    return std::clamp(1 + (mode_db - average_db) / heard_within_db, 0.0, 1.0);
}

}  // namespace

double ringing_threshold(double frequency) {
    constexpr double low = 32, high = 100, at_low = 0.85, at_high = 0.2;
    const double share = std::log(frequency / low) / std::log(high / low);
    return at_low + std::clamp(share, 0.0, 1.0) * (at_high - at_low);
}

double ringing_threshold_of_q16(double frequency) {
    return 6 * std::log(10.0) * 16 / (2 * std::numbers::pi * frequency);
}

RingingModes::RingingModes(const Acoustics& acoustics, std::span<const Seat> seats,
                           const Band& target)
    : target_(target) {
    const auto& grid = acoustics.frequency;
    if (!knows_free_oscillations(acoustics.room, acoustics.solver) || grid.size() < 2) return;
    known_ = true;
    for (FreeOscillation& free :
         free_oscillations(acoustics.room, acoustics.air, grid.back(), acoustics.solver)) {
        const Mode& mode = free.mode;
        const double threshold = ringing_threshold(mode.frequency);
        if (mode.decay_time <= threshold || mode.frequency < grid.front()) continue;
        Ringer ringer{std::move(free), threshold, 0, 0, {}};
        const double at = ringer.free.mode.frequency;
        const auto next = std::upper_bound(grid.begin() + 1, grid.end() - 1, at);
        ringer.below = static_cast<std::size_t>(next - grid.begin()) - 1;
        ringer.share = std::log(at / *(next - 1)) / std::log(*next / *(next - 1));
        for (const Seat& seat : seats) ringer.at_seat.push_back(ringer.free.shape(seat.at));
        modes_.push_back(std::move(ringer));
    }
}

double RingingModes::between(const Ringer& ringer, std::span<const double> value_db) const {
    return (1 - ringer.share) * value_db[ringer.below] + ringer.share * value_db[ringer.below + 1];
}

Complex RingingModes::drive_of(const Ringer& ringer, std::span<const Point> sources,
                               const ByFrequency<Complex>& flow) const {
    Complex drive = 0;
    for (std::size_t q = 0; q < sources.size(); ++q)
        drive += ringer.free.shape(sources[q]) * ((1 - ringer.share) * flow(ringer.below, q) +
                                                  ringer.share * flow(ringer.below + 1, q));
    return drive * ringer.free.transfer;
}

std::vector<RingingNote> RingingModes::notes(const Listening& heard) const {
    std::vector<RingingNote> notes;
    const auto places = places_of(heard.subs);
    for (const Ringer& ringer : modes_) {
        const Complex drive = drive_of(ringer, places, heard.volume_velocity);
        std::size_t loudest = 0;  // the first of those that are as loud, whatever is rounded
        for (std::size_t s = 1; s < ringer.at_seat.size(); ++s)
            if (std::abs(ringer.at_seat[s]) > (1 + 1e-6) * std::abs(ringer.at_seat[loudest]))
                loudest = s;
        const double level = level_db(std::norm(drive * ringer.at_seat[loudest]));
        if (level < between(ringer, heard.seat_average_db) - heard_within_db) continue;
        notes.push_back({ringer.free.mode.order, ringer.free.mode.frequency,
                         ringer.free.mode.decay_time, ringer.threshold, heard.seats[loudest].name,
                         level, target_.contains(ringer.free.mode.frequency)});
    }
    std::stable_sort(notes.begin(), notes.end(), [](const RingingNote& a, const RingingNote& b) {
        return a.decay_time / a.threshold > b.decay_time / b.threshold;
    });
    return notes;
}

double RingingModes::excess(std::span<const Point> sources, const ByFrequency<Complex>& flow,
                            std::span<const double> average) const {
    if (!known_) return std::numeric_limits<double>::quiet_NaN();
    double worst = 0;
    for (const Ringer& ringer : modes_) {
        const double over = ringer.free.mode.decay_time - ringer.threshold;
        if (over <= worst || !target_.contains(ringer.free.mode.frequency)) continue;
        const double drive = std::norm(drive_of(ringer, sources, flow));
        double loudest = 0;
        for (const Complex& seat : ringer.at_seat)
            loudest = std::max(loudest, drive * std::norm(seat));
        const double average_db = (1 - ringer.share) * level_db(average[ringer.below]) +
                                  ringer.share * level_db(average[ringer.below + 1]);
        worst = std::max(worst, over * heard_share(level_db(loudest), average_db));
    }
    return worst;
}

double RingingModes::excess(const Listening& heard) const {
    std::vector<double> average;
    for (const double level : heard.seat_average_db) average.push_back(mean_square_of_level(level));
    return excess(places_of(heard.subs), heard.volume_velocity, average);
}

std::string ringing_words(const std::vector<RingingNote>& notes) {
    const auto found = std::ranges::find_if(notes, &RingingNote::in_band);
    if (found == notes.end()) return "";
    const RingingNote& worst = *found;
    const auto more = std::ranges::count_if(notes, &RingingNote::in_band) - 1;
    std::string words = number(worst.frequency, 0) + " Hz hangs " + number(worst.decay_time, 1) +
                        " s at the seat \"" + worst.seat + "\"; listeners notice above " +
                        number(worst.threshold, 1) + " s.";
    if (more > 0)
        words += " So do " + std::to_string(more) + " other note" + (more > 1 ? "s" : "") + '.';
    return words;
}

}  // namespace boxroom
