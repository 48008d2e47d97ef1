#include "tuning/drawn_rooms.hpp"

#include <algorithm>

#include "solvers/solved_rooms.hpp"

namespace boxroom {
namespace {

/// The room as drawn, with every `step`th sub from `first` on.
RoomVariant variant(const Scenario& scenario, const std::vector<DrawnSub>& subs, const Draw& draw,
                    std::size_t first = 0, std::size_t step = 1) {
    RoomVariant v{draw.room, {}, {}};
    for (std::size_t n = first; n < subs.size(); n += step)
        v.sources.push_back(moved(subs[n].at, scenario.acoustics.room, draw.room,
                                  draw.shift[static_cast<std::size_t>(subs[n].number)]));
    v.receivers = places_of(draw.seats);
    return v;
}

/// As many of the subs' places as the elements solve in a few seconds, spread over all of them,
/// and the seats of two draws: near a source its field depends on where it is.
std::vector<Point> some_places(const Scenario& scenario, const std::vector<DrawnSub>& subs) {
    constexpr std::size_t most = 8;
    std::vector<Point> places;
    for (const DrawnSub& sub : subs)
        if (std::ranges::find(places, sub.at) == places.end()) places.push_back(sub.at);
    std::vector<Point> some;
    const std::size_t count = std::min(most, places.size());
    for (std::size_t n = 0; n < count; ++n) some.push_back(places[n * places.size() / count]);
    for (const int n : {-1, -2})
        for (const Seat& seat : draw_inputs(scenario, n).seats) some.push_back(seat.at);
    return some;
}

VariedRoom learnt(const Scenario& scenario, const std::vector<DrawnSub>& subs,
                  std::span<const double> frequency) {
    const Acoustics& a = scenario.acoustics;
    const std::vector<Room> others{with_hardness(scenario, 1), with_hardness(scenario, -1)};
    const auto solved = a.solver.solved ? a.solver.solved : std::make_shared<SolvedRooms>();
    constexpr int examples = 18, step = 4;
    std::vector<RoomVariant> example;
    for (int n = 0; n < examples; ++n)  // draws that are not counted
        example.push_back(variant(scenario, subs, draw_inputs(scenario, -1 - n),
                                  static_cast<std::size_t>(n % step), step));
    return {solved->varied(a.room, a.air, std::ranges::max(frequency), others,
                           some_places(scenario, subs)),
            a.air, frequency, example};
}

}  // namespace

DrawnRooms::DrawnRooms(const Scenario& scenario, std::vector<DrawnSub> subs,
                       std::span<const double> frequency)
    : scenario_(scenario), subs_(std::move(subs)), room_(learnt(scenario, subs_, frequency)) {}

std::vector<TransferImpedance<float>> DrawnRooms::transfer(std::span<const Draw> draws) const {
    std::vector<RoomVariant> variants;
    for (const Draw& draw : draws) variants.push_back(variant(scenario_, subs_, draw));
    return room_.transfer(variants);
}

}  // namespace boxroom
