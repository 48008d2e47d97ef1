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
    now_ = view_.start;
    box_ = view_.box_size(now_.volume);
    chosen_ = 0;
}

const std::string& Arranger::name(int thing) const {
    return is_box(thing) ? now_.boxes[thing].sub.name : now_.seats[thing - boxes()].name;
}

Point Arranger::place(int thing) const {
    return is_box(thing) ? now_.boxes[thing].footprint : now_.seats[thing - boxes()].at;
}

FloorLimits Arranger::limits_for(int thing) const {
    FloorLimits floor{view_.width, view_.length, view_.gap, {}};
    if (!is_box(thing)) return floor;
    floor.keep_outs = view_.keep_outs;
    for (int other = 0; other < boxes(); ++other) {
        if (other == thing) continue;
        const Point& at = now_.boxes[other].footprint;
        floor.keep_outs.push_back({now_.boxes[other].sub.name, at.x - box_.width / 2,
                                   at.y - box_.depth / 2, at.x + box_.width / 2,
                                   at.y + box_.depth / 2});
    }
    return floor;
}

void Arranger::move(int thing, Point wanted, double magnet) {
    const FloorLimits floor = limits_for(thing);
    if (is_box(thing)) {
        const Point at = snap_box(floor, box_.width, box_.depth, wanted, magnet);
        now_.boxes[thing] = view_.stand(now_.boxes[thing], at, now_.volume);
    } else {
        Seat& seat = now_.seats[thing - boxes()];
        seat.at = snap_seat(floor, {wanted.x, wanted.y, seat.at.z}, ear_to_wall);
    }
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
    if (next.width + 2 * view_.gap > view_.width || next.depth + 2 * view_.gap > view_.length ||
        next.feet + next.height > view_.height || volume < 1e-3 || volume > 2)
        return false;
    const BoxSize old = box_;
    const FloorLimits floor{view_.width, view_.length, view_.gap, {}};
    box_ = next;
    now_.volume = volume;
    for (int i = 0; i < boxes(); ++i)
        move(i,
             keep_distance(floor, now_.boxes[i].footprint, old.width, old.depth, next.width,
                           next.depth),
             0);
    return true;
}

}  // namespace boxroom
