#include "placement/decay_picture.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/frequency_grid.hpp"
#include "placement/pressure.hpp"
#include "solvers/free_oscillations.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr double step = 0.02, longest = 4;  // [s]
constexpr double burst = 1.0 / 16;          // s/f of the Gaussian
constexpr double reach = 3.5;               // ... which is left out beyond so many s: -53 dB
constexpr int points_per_octave = 24;

/// Steps of a linear grid [Hz] from which bursts are put together: they come round again after
/// 1/spacing, when the last of the modes is to be 120 dB down.
double spacing_for(const Acoustics& acoustics, const Band& band) {
    constexpr double finest = 0.125, coarsest = 0.5;  // [Hz]
    if (!knows_free_oscillations(acoustics.room, acoustics.solver)) return finest;
    double decay = 0;  // [s] for 60 dB
    for (const FreeOscillation& free :
         free_oscillations(acoustics.room, acoustics.air, 1.2 * band.high, acoustics.solver))
        decay = std::max(decay, free.mode.decay_time);
    return std::clamp(1 / (2 * decay), finest, coarsest);
}

/// P on a linear grid wide enough for every burst of the band.
Listening solved_finely(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                        const std::vector<PlacedSub>& subs, std::size_t seat, const Band& band,
                        double spacing) {
    Scenario fine = scenario;
    fine.seats = {scenario.seats[seat]};
    fine.acoustics.frequency.clear();
    const double low = band.low * (1 - reach * burst), high = band.high * (1 + reach * burst);
    for (double f = std::ceil(low / spacing) * spacing; f <= high; f += spacing)
        fine.acoustics.frequency.push_back(f);
    return listen(fine, driver, box, subs);
}

/// Envelope of the burst at `centre` [dB], every `step` from 0 to `end` [s].
std::vector<double> envelope_db(std::span<const double> frequency, std::span<const Complex> p,
                                double centre, double end) {
    const double width = centre * burst;
    const auto first = std::ranges::lower_bound(frequency, centre - reach * width);
    const auto last = std::ranges::upper_bound(frequency, centre + reach * width);
    const auto begin = static_cast<std::size_t>(first - frequency.begin());
    const auto count = static_cast<std::size_t>(last - first);
    // What each frequency adds now, and by how much it turns in a step; the centre stands still.
    std::vector<Complex> part(count), turn(count);
    double sum = 0;
    for (std::size_t n = 0; n < count; ++n) {
        const double off = frequency[begin + n] - centre;
        const double weight = std::exp(-off * off / (2 * width * width));
        sum += weight;
        part[n] = weight * p[begin + n];
        turn[n] = std::polar(1.0, 2 * pi * off * step);
    }
    std::vector<double> level;
    for (double t = 0; t <= end + step / 2; t += step) {
        Complex total = 0;
        for (std::size_t n = 0; n < count; ++n) total += part[n], part[n] *= turn[n];
        level.push_back(level_db(std::norm(total / sum)));
    }
    return level;
}

/// The contours at every frequency of the picture (K)(F).
std::vector<std::vector<double>> contours(const DecayPicture& picture, const Band& target,
                                          std::span<const double> frequency,
                                          std::span<const Complex> p) {
    const auto weight = log_mean_weights(frequency, target);
    double mean = 0;
    for (std::size_t n = 0; n < p.size(); ++n)
        if (weight[n] > 0) mean += weight[n] * level_db(std::norm(p[n]));
    std::vector<std::vector<double>> result(picture.below_db.size());
    for (const double f : picture.frequency) {
        const auto times =
            last_above(envelope_db(frequency, p, f, picture.longest), step, mean, picture.below_db);
        for (std::size_t k = 0; k < times.size(); ++k) result[k].push_back(times[k]);
    }
    return result;
}

}  // namespace

std::vector<double> last_above(std::span<const double> level_db, double time_step, double mean_db,
                               std::span<const double> below_db) {
    std::vector<double> times;
    for (const double below : below_db) {
        const double line = mean_db - below;
        std::size_t last = level_db.size();
        while (last > 0 && level_db[last - 1] <= line) --last;
        if (last == 0) {
            times.push_back(0);
        } else if (last == level_db.size()) {
            times.push_back((last - 1) * time_step);
        } else {
            const double here = level_db[last - 1], next = level_db[last];
            times.push_back((last - 1 + (here - line) / (here - next)) * time_step);
        }
    }
    return times;
}

DecayPicture decay_picture(const Scenario& scenario, const Driver& driver, const ClosedBox& box,
                           const std::vector<PlacedSub>& subs, std::size_t seat,
                           const std::function<Complex(double)>& equaliser) {
    DecayPicture picture;
    if (scenario.acoustics.solver.solver != RoomSolver::modal || subs.empty()) return picture;
    const Band& target = scenario.judgement.target.band;
    const Band band{std::max(16.0, target.low / 1.2), std::min(200.0, target.high * 1.2)};
    const double spacing = spacing_for(scenario.acoustics, band);
    const Listening heard = solved_finely(scenario, driver, box, subs, seat, band, spacing);
    picture.seat = scenario.seats[seat].name;
    picture.below_db = {10, 20, 30, 40};
    picture.frequency = logarithmic_grid(band, points_per_octave);
    picture.longest = std::min(longest, 0.8 / spacing);
    std::vector<Complex> p =
        pressure_at(heard.transfer_impedance, heard.volume_velocity).over_frequency(0);
    picture.before = contours(picture, target, heard.frequency, p);
    if (!equaliser) return picture;
    for (std::size_t f = 0; f < p.size(); ++f) p[f] *= equaliser(heard.frequency[f]);
    picture.after = contours(picture, target, heard.frequency, p);
    return picture;
}

}  // namespace boxroom
