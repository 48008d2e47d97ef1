#include "live/room_fields.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "base/error.hpp"
#include "solvers/heard_room.hpp"
#include "solvers/prepared_room.hpp"
#include "solvers/raw_numbers.hpp"
#include "solvers/solved_rooms.hpp"

namespace boxroom {
namespace {

class PreparedFields : public RoomFields {
  public:
    explicit PreparedFields(const Acoustics& a) : room_(a.room, a.air, a.frequency) {}
    TransferImpedance<double> transfer(std::span<const Point> sources,
                                       std::span<const Point> seats) override {
        return room_.transfer(sources, seats);
    }
    void set_wall(const RoomSurface& surface, const Wall& wall) override {
        room_.set_wall(static_cast<int>(surface.index), wall);
    }

  private:
    PreparedRoom room_;
};

/// Seats that were moved and surfaces that are others are learnt anew, not beside what was known:
/// that is the basis `listen` makes. The one that it began with is kept, so that it is soon back.
class ElementFields : public RoomFields {
  public:
    explicit ElementFields(const Scenario& scenario)
        : room_(scenario.acoustics.room),
          air_(scenario.acoustics.air),
          frequency_(scenario.acoustics.frequency) {}

    TransferImpedance<double> transfer(std::span<const Point> sources,
                                       std::span<const Point> seats) override {
        if (!heard_) learn(seats, {});
        if (!heard_as_is_) heard_->be(room_);
        heard_as_is_ = true;
        return heard_->transfer({sources.begin(), sources.end()}, {seats.begin(), seats.end()});
    }
    void set_wall(const RoomSurface& surface, const Wall& wall) override {
        surface.in(room_) = wall;
        heard_as_is_ = false;
    }
    SolverSettings solver() const override {
        SolverSettings settings;
        settings.solved = solved_;
        return settings;
    }

    bool learnt(std::span<const Point> seats) const override {
        return heard_ && key(seats) == learnt_;
    }
    void learn(std::span<const Point> seats, const std::function<void(double)>& progress) override {
        if (learnt(seats)) return;
        taking_ = false;
        solve(seats, progress);
    }
    std::string_view kept() const override { return kept_; }
    bool take(std::span<const Point> seats, const std::string& kept) override {
        std::string before = std::exchange(kept_, kept);
        taking_ = true;
        try {
            solve(seats, {});
        } catch (const AnotherRoom&) {
            kept_ = std::move(before);
        }
        taking_ = false;
        return learnt(seats);
    }

  private:
    struct AnotherRoom {};
    std::optional<std::string> read(const std::string& key) {
        const std::string head = kept_room(key, "");
        if (begun_.starts_with(head)) kept_ = begun_;
        if (kept_.starts_with(head)) return kept_.substr(head.size());
        if (taking_) throw AnotherRoom();
        return std::nullopt;
    }
    void write(const std::string& key, const Pieces& bytes) {
        std::string fresh = kept_room(key, bytes.joined());
        if (begun_.empty()) begun_ = kept_.empty() ? fresh : std::move(kept_);
        kept_ = std::move(fresh);
    }
    void solve(std::span<const Point> seats, const std::function<void(double)>& progress) {
        auto solved = std::make_shared<SolvedRooms>(
            RoomStore{[this](const std::string& key) { return read(key); },
                      [this](const std::string& key, const Pieces& bytes) { write(key, bytes); }},
            std::vector<Point>(seats.begin(), seats.end()), frequency_.back());
        HeardRoom heard(solved->varied(room_, air_, frequency_.back(), {}, {}, progress),
                        frequency_);
        solved_ = std::move(solved);
        heard_.emplace(std::move(heard));
        heard_as_is_ = true;
        learnt_ = key(seats);
    }
    std::string key(std::span<const Point> seats) const {
        return solved_room_key(room_, air_, frequency_.back(), seats);
    }

    Room room_;
    Air air_;
    std::vector<double> frequency_;
    std::shared_ptr<SolvedRooms> solved_;
    std::optional<HeardRoom> heard_;
    bool heard_as_is_ = false;  ///< not with surfaces that the room had before
    std::string learnt_;        ///< key() of what was learnt
    std::string begun_, kept_;  ///< what was found for the first seats, and for these
    bool taking_ = false;       ///< nothing is to be solved
};

}  // namespace

std::string kept_room(const std::string& key, const std::string& bytes) {
    RawWriter to;
    const auto length = static_cast<double>(key.size());
    to.put(&length, 1);
    return to.bytes + key + bytes;
}

std::unique_ptr<RoomFields> fields_of(const Scenario& scenario) {
    if (scenario.acoustics.room.is_rectangle())
        return std::make_unique<PreparedFields>(scenario.acoustics);
    return std::make_unique<ElementFields>(scenario);
}

}  // namespace boxroom
