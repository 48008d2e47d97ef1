#include "solvers/solved_rooms.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "solvers/mode_orders.hpp"
#include "solvers/raw_numbers.hpp"
#include "solvers/training_places.hpp"

namespace boxroom {
namespace {

/// To be raised with every change of the elements or the basis that moves a level.
constexpr double version = 9;
constexpr double bands[] = {150, 200, 250, 320};  ///< [Hz]: tops that rooms are solved up to

struct Key {
    RawWriter to;
    void add(double x) { to.put(&x, 1); }
    void add(std::size_t n) { add(static_cast<double>(n)); }
    void add(const Point& p) {
        for (const double x : {p.x, p.y, p.z}) add(x);
    }
    void add(const Wall& wall) {
        add(wall.branches.size());
        for (const Branch& b : wall.branches)
            for (const double x : {b.resistance, b.mass, b.stiffness}) add(x);
    }
    void add(const NamedWall& wall) { add(wall.wall); }
    void add(const Block& b) { add(b.from), add(b.to), add(b.surface); }
    void add(const Space& s) { add(s.from), add(s.to), add(s.walls); }
    void add(const Opening& o) { add(o.from), add(o.to), add(static_cast<double>(o.space)); }
    template <typename Part>
    void add(const std::vector<Part>& parts) {
        add(parts.size());
        for (const Part& part : parts) add(part);
    }
};

}  // namespace

std::string solved_room_key(const Room& room, const Air& air, double highest_frequency,
                            std::span<const Point> learnt) {
    Key key;
    for (const double x : {version, highest_frequency, air.speed_of_sound, air.density, room.width,
                           room.length, room.height})
        key.add(x);
    for (const Wall& wall : room.walls) key.add(wall);
    key.add(room.plan.outline), key.add(room.plan.edges), key.add(room.plan.blocks);
    key.add(room.plan.spaces), key.add(room.plan.openings);
    for (const double x : {room.contents.area, room.contents.q, room.contents.frequency})
        key.add(x);
    for (const Point& place : learnt) key.add(place);
    return std::move(key.to.bytes);
}

/// The room that has learnt these places: the seats (those of them that are in it), then others.
ReducedRoom& SolvedRooms::solved(const Room& room, const Air& air, double highest,
                                 const std::vector<Point>& places, const Progress& progress) {
    const std::string key = solved_room_key(room, air, highest, places);
    if (const auto found = rooms_.find(key); found != rooms_.end()) return found->second;
    std::vector<Point> first;
    std::ranges::copy_if(places, std::back_inserter(first), [this](const Point& p) {
        return std::ranges::find(seats_, p) != seats_.end();
    });
    ReducedRoom fresh = !first.empty() && first.size() < places.size()
                            ? solved(room, air, highest, first, progress)
                            : bare(room, air, highest);
    const int known = fresh.report().functions;
    const auto bytes = store_.read ? store_.read(key) : std::nullopt;
    if (!bytes || !fresh.take(*bytes)) {
        fresh.learn(places, progress);
        if (store_.write) store_.write(key, fresh.kept(known));
    }
    return rooms_.emplace(key, std::move(fresh)).first->second;
}

/// One that has learnt nothing; its elements serve all.
const ReducedRoom& SolvedRooms::bare(const Room& room, const Air& air, double highest) {
    const std::string key = solved_room_key(room, air, highest, {});
    auto found = rooms_.find(key);
    if (found == rooms_.end()) found = rooms_.emplace(key, ReducedRoom(room, air, highest)).first;
    return found->second;
}

std::vector<Point> SolvedRooms::seats_in(const Room& room) const {
    std::vector<Point> places;
    std::ranges::copy_if(seats_, std::back_inserter(places),
                         [&room](const Point& p) { return room.contains(p); });
    return places;
}

/// The top of the band that a room is solved up to.
double SolvedRooms::band_of(double highest) const {
    highest = std::max(highest, highest_);
    const auto band = std::ranges::find_if(bands, [&](double top) { return top >= highest; });
    return band == std::end(bands) ? highest : *band;  // refused where the elements are made
}

template <typename Real>
TransferImpedance<Real> SolvedRooms::transfer(const Room& room, const Air& air,
                                              std::span<const double> frequency,
                                              std::span<const Point> sources,
                                              std::span<const Point> receivers) {
    if (frequency.empty() || sources.empty() || receivers.empty())
        return {frequency.size(), receivers.size(), sources.size()};
    const std::lock_guard lock(mutex_);
    std::vector<Point> places = seats_in(room);
    for (const Point& p : ReducedRoom::learnt_for(sources, receivers))
        if (std::ranges::find(places, p) == places.end()) places.push_back(p);
    return solved(room, air, band_of(std::ranges::max(frequency)), places, progress_)
        .template transfer<Real>(frequency, sources, receivers);
}

std::pair<std::string, Pieces> SolvedRooms::kept(const Room& room, const Air& air, double highest) {
    const std::lock_guard lock(mutex_);
    const std::vector<Point> seats = seats_in(room);
    return {solved_room_key(room, air, band_of(highest), seats),
            solved(room, air, band_of(highest), seats, progress_).kept()};
}

std::vector<FreeOscillation> SolvedRooms::free_oscillations(const Room& room, const Air& air,
                                                            double highest) {
    const std::lock_guard lock(mutex_);
    std::vector<Point> places = seats_in(room);
    if (places.empty()) places = corner_places(room);
    const double band = band_of(highest);
    // What whoever asks for less is to find: all of the band.
    const auto [found, fresh] = free_.try_emplace(solved_room_key(room, air, band, places));
    if (fresh) {
        found->second = solved(room, air, band, places, progress_).free_oscillations(band);
        if (room.has_rectangle_floor()) name_orders(room, found->second);
    }
    std::vector<FreeOscillation> wanted = found->second;
    std::erase_if(wanted,
                  [&](const FreeOscillation& free) { return free.mode.frequency > highest; });
    return wanted;
}

ReducedRoom SolvedRooms::varied(const Room& room, const Air& air, double highest,
                                std::span<const Room> others, std::span<const Point> places,
                                const Progress& progress) {
    const std::lock_guard lock(mutex_);
    const Progress& tell = progress ? progress : progress_;
    std::vector<Point> first = seats_in(room);
    if (first.empty()) first = corner_places(room);
    const double band = band_of(highest);
    ReducedRoom copy = solved(room, air, band, first, tell);
    if (others.empty()) return copy;
    std::string key = solved_room_key(room, air, band, first);
    for (const Room& other : others) key += solved_room_key(other, air, band, places);
    const int known = copy.report().functions;
    if (const auto bytes = store_.read ? store_.read(key) : std::nullopt)
        if (copy.take(*bytes)) return copy;
    if (tell) tell(0);
    copy.learn_as(others, places);
    if (store_.write) store_.write(key, copy.kept(known));
    return copy;
}

ReducedReport SolvedRooms::report() const {
    const std::lock_guard lock(mutex_);
    ReducedReport worst;
    for (const auto& [key, room] : rooms_)
        if (room.report().change_db >= worst.change_db) worst = room.report();
    return worst;
}

template TransferImpedance<float> SolvedRooms::transfer(const Room&, const Air&,
                                                        std::span<const double>,
                                                        std::span<const Point>,
                                                        std::span<const Point>);
template TransferImpedance<double> SolvedRooms::transfer(const Room&, const Air&,
                                                         std::span<const double>,
                                                         std::span<const Point>,
                                                         std::span<const Point>);

}  // namespace boxroom
