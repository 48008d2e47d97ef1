#include "app/element_hearing.hpp"

#include <algorithm>

namespace boxroom {
namespace {

using Complex = std::complex<double>;

bool contains(const std::vector<Point>& all, const Point& p) {
    return std::ranges::find(all, p) != all.end();
}

}  // namespace

ElementHearing::ElementHearing(const Scenario& scenario)
    : scenario_(scenario),
      solved_(scenario.acoustics.solver.solved ? scenario.acoustics.solver.solved
                                               : std::make_shared<SolvedRooms>()) {}

std::shared_ptr<const ElementHearing::Learnt> ElementHearing::now() const {
    const std::lock_guard lock(mutex_);
    return now_;
}

std::optional<ByFrequency<Complex>> ElementHearing::transfer(const std::vector<PlacedSub>& subs,
                                                             const std::vector<Seat>& seats) const {
    const auto learnt = now();
    if (!learnt) return std::nullopt;
    auto z = learnt->room.transfer(places_of(subs), places_of(seats));
    return ByFrequency<Complex>(z.frequencies, z.receivers, z.sources, std::move(z.value));
}

std::optional<RoomHearing::Pressures> ElementHearing::field(const Point& sub,
                                                            const std::vector<Point>& points,
                                                            double frequency) const {
    const auto learnt = now();
    if (!learnt || !contains(learnt->places, sub)) return std::nullopt;
    return learnt->room.field(sub, points, frequency);
}

std::optional<RoomHearing::Pressures> ElementHearing::sketch(const Point& sub,
                                                             const std::vector<Point>& points,
                                                             double frequency) const {
    const auto learnt = now();
    if (!learnt) return std::nullopt;
    return learnt->room.field(sub, points, frequency);
}

Preparation ElementHearing::prepare(const Arrangement& arrangement, const std::vector<Point>&,
                                    const std::function<void(const std::string&, double)>& say,
                                    const std::function<bool()>&) {
    const auto before = now();
    std::vector<Point> places = places_of(arrangement.seats), known = places_of(scenario_.seats);
    for (const StandingBox& box : arrangement.boxes) places.push_back(box.sub.at);
    if (before &&
        std::ranges::all_of(places, [&](const Point& p) { return contains(before->places, p); }))
        return {};
    const Acoustics& a = scenario_.acoustics;
    const auto progress = [&say](double share) { say("solving the room by elements", share); };
    ReducedRoom room = solved_->varied(a.room, a.air, a.frequency.back(), {}, {}, progress);
    if (before) {  // the first picture does not wait for what only the last digits need
        std::erase_if(places, [&](const Point& p) { return contains(known, p); });
        room.learn(places, progress);
        known.insert(known.end(), places.begin(), places.end());
    }
    auto made = std::make_shared<const Learnt>(
        Learnt{HeardRoom(std::move(room), a.frequency), std::move(known)});
    const std::lock_guard lock(mutex_);
    now_ = std::move(made);
    return {!before, ""};
}

}  // namespace boxroom
