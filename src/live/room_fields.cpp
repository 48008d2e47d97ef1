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
    void set_wall(int index, const Wall& wall) override { room_.set_wall(index, wall); }

  private:
    PreparedRoom room_;
};

/// The seats that it begins with are learnt first, others come to them: each time to those alone,
/// so that the basis does not grow as seats are moved on.
class ElementFields : public RoomFields {
  public:
    explicit ElementFields(const Scenario& scenario)
        : room_(scenario.acoustics.room),
          air_(scenario.acoustics.air),
          frequency_(scenario.acoustics.frequency),
          first_(places_of(scenario.seats)) {}

    TransferImpedance<double> transfer(std::span<const Point> sources,
                                       std::span<const Point> seats) override {
        if (!heard_) learn(seats, {});
        return heard_->transfer({sources.begin(), sources.end()}, {seats.begin(), seats.end()});
    }
    void set_wall(int, const Wall&) override {
        throw Error("live page", "this room is solved anew for other walls",
                    "change them in the room and plan again");
    }
    SolverSettings solver() const override {
        SolverSettings settings;
        settings.solved = solved_;
        return settings;
    }

    bool learnt(std::span<const Point> seats) const override {
        return heard_ && std::ranges::all_of(seats, [this](const Point& seat) {
                   return among(seat, first_) || among(seat, seats_);
               });
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
    static bool among(const Point& place, const std::vector<Point>& all) {
        return std::ranges::find(all, place) != all.end();
    }
    std::optional<std::string> read(const std::string& key) const {
        const std::string head = kept_room(key, "");
        for (const std::string* kept : {&kept_, &begun_})
            if (kept->starts_with(head)) return kept->substr(head.size());
        if (taking_) throw AnotherRoom();
        return std::nullopt;
    }
    void write(const std::string& key, const std::string& bytes) {
        std::string fresh = kept_room(key, bytes);
        if (begun_.empty()) begun_ = kept_.empty() ? fresh : std::move(kept_);
        kept_ = std::move(fresh);
    }
    void solve(std::span<const Point> seats, const std::function<void(double)>& progress) {
        auto solved = std::make_shared<SolvedRooms>(
            RoomStore{
                [this](const std::string& key) { return read(key); },
                [this](const std::string& key, const std::string& bytes) { write(key, bytes); }},
            first_, frequency_.back());
        solved->tell(progress);
        HeardRoom heard(solved->learnt(room_, air_, frequency_.back(), seats), frequency_);
        solved->tell({});
        solved_ = std::move(solved);
        heard_.emplace(std::move(heard));
        seats_.assign(seats.begin(), seats.end());
    }

    Room room_;
    Air air_;
    std::vector<double> frequency_;
    std::vector<Point> first_, seats_;  ///< those it began with, and those learnt last
    std::shared_ptr<SolvedRooms> solved_;
    std::optional<HeardRoom> heard_;
    std::string begun_, kept_;  ///< what was found for either
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
