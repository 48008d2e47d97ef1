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
        if (std::ranges::none_of(places, [&](const Point& known) {
                return known.x == p.x && known.y == p.y && known.z == p.z;
            }))
            places.push_back(p);
    return places;
}

bool one_point(const Point& a, const Point& b) {
    return a.x == b.x && a.y == b.y && a.z == b.z;
}

}  // namespace

FitBlocked::FitBlocked(const FitState& near, const Air& air, std::span<const double> frequency,
                       int more_degrees)
    : near_(near.scenario.acoustics.room),
      sound_(air.speed_of_sound),
      frequency_(frequency.begin(), frequency.end()),
      room_(near_, air, std::ranges::max(frequency), places_of(near, sound_), more_degrees) {}

bool FitBlocked::stands_as(const FitState& state) const {
    const Room& room = state.scenario.acoustics.room;
    const Block &a = room.plan.blocks.at(0), &b = near_.plan.blocks.at(0);
    return room.width == near_.width && room.length == near_.length &&
           room.height == near_.height && one_point(a.from, b.from) && one_point(a.to, b.to);
}

std::vector<TransferImpedance<double>> FitBlocked::transfer(
    std::span<const FitState> states) const {
    std::vector<RoomVariant> variants;
    for (const FitState& state : states) variants.push_back(fit_variant(state, sound_));
    return room_.transfer(variants, frequency_);
}

}  // namespace boxroom
