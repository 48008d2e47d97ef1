#include "solvers/solved_rooms.hpp"

#include <algorithm>
#include <cstring>

namespace boxroom {
namespace {

/// To be raised with every change of the elements or the basis that moves a level.
constexpr double version = 1;
constexpr double bands[] = {150, 200, 250, 320};  ///< [Hz]: tops that rooms are solved up to

struct Bytes {
    std::string text;
    void add(double x) {
        char raw[sizeof x];
        std::memcpy(raw, &x, sizeof x);
        text.append(raw, sizeof x);
    }
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

std::string solved_room_key(const Room& room, const Air& air, double highest_frequency) {
    Bytes key;
    for (const double x : {version, highest_frequency, air.speed_of_sound, air.density, room.width,
                           room.length, room.height})
        key.add(x);
    for (const Wall& wall : room.walls) key.add(wall);
    key.add(room.plan.outline), key.add(room.plan.edges), key.add(room.plan.blocks);
    key.add(room.plan.spaces), key.add(room.plan.openings);
    for (const double x : {room.contents.area, room.contents.q, room.contents.frequency})
        key.add(x);
    return key.text;
}

ReducedRoom& SolvedRooms::solved(const Room& room, const Air& air, double highest,
                                 std::string& key) {
    double top = highest;  // above all of them: refused where the elements are made
    for (const double band : bands) {
        if (band < highest) continue;
        key = solved_room_key(room, air, band);
        if (const auto found = rooms_.find(key); found != rooms_.end()) return found->second;
    }
    for (const double band : bands)
        if (band >= highest) {
            top = band;
            break;
        }
    key = solved_room_key(room, air, top);
    ReducedRoom fresh(room, air, top);
    if (store_.read)
        if (const auto bytes = store_.read(key)) fresh.take(*bytes);
    return rooms_.emplace(key, std::move(fresh)).first->second;
}

template <typename Real>
TransferImpedance<Real> SolvedRooms::transfer(const Room& room, const Air& air,
                                              std::span<const double> frequency,
                                              std::span<const Point> sources,
                                              std::span<const Point> receivers) {
    if (frequency.empty()) return {};
    const std::lock_guard lock(mutex_);
    std::string key;
    ReducedRoom& known =
        solved(room, air, *std::max_element(frequency.begin(), frequency.end()), key);
    const int before = known.report().places;
    auto z = known.transfer<Real>(frequency, sources, receivers);
    if (store_.write && known.report().places != before) store_.write(key, known.kept());
    return z;
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
