#include "measured/fit_blocked.hpp"

#include <algorithm>

#include "measured/fit_variant.hpp"

namespace boxroom {
namespace {

/// Sources and microphones: their own fields are among the functions.
std::vector<Point> places_of(const FitState& state, double sound) {
    const RoomVariant v = fit_variant(state, sound);
    std::vector<Point> places = v.sources;
    for (const Point& p : v.receivers)
        if (std::find(places.begin(), places.end(), p) == places.end()) places.push_back(p);
    return places;
}

}  // namespace

FitBlocked::FitBlocked(const FitState& near, const Air& air, std::span<const double> frequency,
                       int more_degrees)
    : near_(near.scenario.acoustics.room),
      sound_(air.speed_of_sound),
      frequency_(frequency.begin(), frequency.end()),
      room_(near_, air, std::ranges::max(frequency), places_of(near, sound_), more_degrees) {}

bool FitBlocked::stands_as(const FitState& state) const {
    return same_shape(state.scenario.acoustics.room, near_);
}

std::vector<TransferImpedance<double>> FitBlocked::transfer(
    std::span<const FitState> states) const {
    std::vector<RoomVariant> variants;
    for (const FitState& state : states) variants.push_back(fit_variant(state, sound_));
    return room_.transfer(variants, frequency_);
}

}  // namespace boxroom
