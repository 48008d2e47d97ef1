#include "viz/arranger.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"

namespace boxroom {
namespace {

constexpr double ear_to_wall = 0.10;  // a head's breadth [m]

}  // namespace

Arranger::Arranger(const RoomView& view) : view_(view) {
    reset();
}

void Arranger::reset() {
    const bool walls = now_.on_walls;
    now_ = view_.start;
    now_.on_walls = walls;
    box_ = view_.box_size(now_.volume);
    chosen_ = 0;
}

bool Arranger::same_places(const Arrangement& other) const {
    return now_.volume == other.volume && now_.stands_as(other) &&
           std::ranges::equal(now_.boxes, other.boxes, {}, &StandingBox::footprint,
                              &StandingBox::footprint);
}

void Arranger::begin_step() {
    if (before_.empty() || !same_places(before_.back())) before_.push_back(now_);
}

bool Arranger::undo() {
    while (!before_.empty() && same_places(before_.back())) before_.pop_back();
    if (before_.empty()) return false;
    Arrangement back = std::move(before_.back());
    before_.pop_back();
    back.frequency = now_.frequency, back.on_walls = now_.on_walls;
    now_ = std::move(back);
    box_ = view_.box_size(now_.volume);
    return true;
}

std::vector<std::string> Arranger::changed() const {
    std::vector<std::string> names;
    if (now_.volume != view_.start.volume) names.emplace_back("size of the box");
    for (int i = 0; i < things(); ++i) {
        const Point was =
            is_box(i) ? view_.start.boxes[i].footprint : view_.start.seats[i - boxes()].at;
        // Larger boxes stand a little further from the wall: that is their size, no move.
        const bool moved = is_box(i) && now_.volume != view_.start.volume
                               ? std::hypot(place(i).x - was.x, place(i).y - was.y) > 0.15
                               : !(place(i) == was);
        if (moved) names.push_back(name(i));
    }
    return names;
}

const std::string& Arranger::name(int thing) const {
    return is_box(thing) ? now_.boxes[thing].sub.name : now_.seats[thing - boxes()].name;
}

Point Arranger::place(int thing) const {
    return is_box(thing) ? now_.boxes[thing].footprint : now_.seats[thing - boxes()].at;
}

FloorLimits Arranger::limits_for(int thing) const {
    FloorLimits floor{view_.width, view_.length, is_box(thing) ? view_.gap : 0, {}};
    const auto keep_off = [&](const CuboidLook& block) {
        floor.keep_outs.push_back({block.name, block.from.x, block.from.y, block.to.x, block.to.y});
    };
    for (const KeepOut& k : view_.no_floor)
        floor.keep_outs.push_back(
            {k.name, k.x0 - floor.gap, k.y0 - floor.gap, k.x1 + floor.gap, k.y1 + floor.gap});
    if (!is_box(thing)) {
        const double ear = place(thing).z;
        for (const CuboidLook& block : view_.blocks)
            if (block.from.z < ear + ear_to_wall && block.to.z > ear - ear_to_wall) keep_off(block);
        return floor;
    }
    for (const CuboidLook& block : view_.blocks)
        if (block.from.z < box_.feet + box_.outer.height) keep_off(block);
    floor.keep_outs.insert(floor.keep_outs.end(), view_.keep_outs.begin(), view_.keep_outs.end());
    for (int other = 0; other < boxes(); ++other) {
        if (other == thing) continue;
        const StandingBox& b = now_.boxes[other];
        floor.keep_outs.push_back({b.sub.name, b.footprint.x - b.width / 2,
                                   b.footprint.y - b.depth / 2, b.footprint.x + b.width / 2,
                                   b.footprint.y + b.depth / 2});
    }
    return floor;
}

void Arranger::move(int thing, Point wanted, double magnet) {
    const FloorLimits floor = limits_for(thing);
    if (is_box(thing)) {
        // A box turns with the wall it stands at, and turned it needs another place.
        StandingBox& box = now_.boxes[thing];
        double width = box.width, depth = box.depth;
        for (int turn = 0; turn < 4; ++turn) {
            box = view_.stand(box, snap_box(floor, width, depth, wanted, magnet), now_.volume);
            if (box.width == width && box.depth == depth) return;
            width = box.width, depth = box.depth;
        }
        // Between two ways of standing: a place that has room for both.
        const double both = std::max(width, depth);
        box = view_.stand(box, snap_box(floor, both, both, wanted, magnet), now_.volume);
    } else {
        Seat& seat = now_.seats[thing - boxes()];
        seat.at = snap_seat(floor, {wanted.x, wanted.y, seat.at.z}, ear_to_wall);
    }
}

void Arranger::take_place(int box, const StandingBox& place) {
    StandingBox moved = place;
    moved.sub = now_.boxes[box].sub;
    moved.sub.at = place.sub.at;
    if (box_allowed(limits_for(box), place.width, place.depth, place.footprint))
        now_.boxes[box] = moved;
    else
        move(box, place.footprint, 0);
}

std::size_t Arranger::frequency_index() const {
    const auto& grid = view_.frequency;
    return std::min_element(grid.begin(), grid.end(),
                            [&](double a, double b) {
                                return std::abs(std::log(a / now_.frequency)) <
                                       std::abs(std::log(b / now_.frequency));
                            }) -
           grid.begin();
}

void Arranger::show_on_walls(bool shown) {
    now_.on_walls = shown;
}

void Arranger::set_frequency(double frequency) {
    now_.frequency = frequency;
    now_.frequency = view_.frequency[frequency_index()];
}

void Arranger::step_frequency(int steps) {
    const int last = static_cast<int>(view_.frequency.size()) - 1;
    now_.frequency =
        view_.frequency[std::clamp(static_cast<int>(frequency_index()) + steps, 0, last)];
}

void Arranger::step_mode(int direction) {
    const ModeTick* next = nullptr;
    for (const ModeTick& mode : view_.modes) {
        const double way = direction * (mode.frequency - now_.frequency);
        if (way > 1e-9 * now_.frequency &&
            (!next || way < direction * (next->frequency - now_.frequency)))
            next = &mode;
    }
    if (next) now_.frequency = next->frequency;
}

std::optional<ModeTick> Arranger::nearest_mode() const {
    const auto nearest = std::min_element(
        view_.modes.begin(), view_.modes.end(), [&](const ModeTick& a, const ModeTick& b) {
            return std::abs(a.frequency - now_.frequency) < std::abs(b.frequency - now_.frequency);
        });
    if (nearest == view_.modes.end()) return std::nullopt;
    return *nearest;
}

bool Arranger::scale_volume(double factor) {
    const double volume = now_.volume * factor;
    BoxSize next;
    try {
        next = view_.box_size(volume);
    } catch (const Error&) {
        return false;
    }
    const double widest = std::max(next.outer.width, next.outer.depth) + 2 * view_.gap;
    if (widest > view_.width || widest > view_.length ||
        next.feet + next.outer.height > view_.height || volume < 1e-3 || volume > 2)
        return false;
    const FloorLimits floor{view_.width, view_.length, view_.gap, {}};
    box_ = next;
    now_.volume = volume;
    for (int i = 0; i < boxes(); ++i) {
        const StandingBox old = now_.boxes[i];
        const StandingBox grown = view_.stand(old, old.footprint, volume);
        now_.boxes[i] = grown;
        move(i, keep_distance(floor, old.footprint, old.width, old.depth, grown.width, grown.depth),
             0);
    }
    return true;
}

}  // namespace boxroom
