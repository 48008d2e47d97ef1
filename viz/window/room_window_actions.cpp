// Mouse and keys: what each does to the arrangement.
#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "viz/window/room_window_parts.hpp"

namespace boxroom {
namespace {

constexpr double magnet = 0.06;  // a box this close to a wall or a keep-out goes up to it [m]
constexpr double nudge_step = 0.05;

/// How far along the ray a box is met; nothing where it is missed.
std::optional<double> meet_box(const Ray& ray, const Point& low, const Point& high) {
    const double from[3] = {ray.from.x, ray.from.y, ray.from.z};
    const double a[3] = {low.x, low.y, low.z}, b[3] = {high.x, high.y, high.z};
    double enter = 0, leave = 1e300;
    for (int i = 0; i < 3; ++i) {
        const double t0 = (a[i] - from[i]) / ray.along[i], t1 = (b[i] - from[i]) / ray.along[i];
        enter = std::max(enter, std::min(t0, t1));
        leave = std::min(leave, std::max(t0, t1));
    }
    if (!(enter <= leave)) return std::nullopt;
    return enter;
}

/// What the key for the field shows next.
FieldKind after(FieldKind kind) {
    return kind == FieldKind::level      ? FieldKind::pressure
           : kind == FieldKind::pressure ? FieldKind::none
                                         : FieldKind::level;
}

}  // namespace

void RoomWindow::Parts::connect() {
    // In a replay every event is followed by its answer, else the clock sees to that.
    const auto then = [this] {
        if (waiting) settle();
    };
    Handlers& h = hands->handlers;
    h.press = [this, then](int x, int y) { press(x, y), then(); };
    h.move = [this, then](int x, int y) { move(x, y), then(); };
    h.release = [this, then](int x, int y) { release(x, y), then(); };
    h.shift = [this, then](int right, int up) { stage.pan(right, up), stale = true, then(); };
    h.zoom = [this, then](double factor) { stage.zoom(factor), stale = true, then(); };
    h.key = [this, then](const std::string& symbol) { key(symbol), then(); };
    h.tick = [this] { tick(); };
}

int RoomWindow::Parts::thing_under(int x, int y) {
    const Ray ray = stage.ray(x, y);
    int nearest = -1;
    double distance = 1e300;
    for (int thing = 0; thing < arranger.things(); ++thing) {
        Point low, high;
        if (arranger.is_box(thing)) {
            std::tie(low, high) = Furniture::extent(arranger.now().boxes[thing], arranger.box());
        } else {
            const Point at = arranger.place(thing);
            const double r = 1.3 * Furniture::head;
            low = {at.x - r, at.y - r, at.z - r}, high = {at.x + r, at.y + r, at.z + r};
        }
        const auto met = meet_box(ray, low, high);
        if (met && *met < distance) distance = *met, nearest = thing;
    }
    return nearest;
}

void RoomWindow::Parts::press(int x, int y) {
    last = {x, y};
    if (const auto frequency = curves.frequency_at(x, y)) {
        grip = Grip::cursor;
        arranger.set_frequency(*frequency);
        ask(true);
        return;
    }
    const Rectangle area = stage.room_area();
    if (!area.holds({double(x), double(y), 0, 0})) return;
    const int thing = thing_under(x, y);
    grip = thing < 0 ? Grip::view : Grip::thing;
    if (thing < 0) return;
    held = thing;
    arranger.choose(thing);
    arranger.begin_step();
    spot = -1;
    // The hand holds the thing at half its height and moves it level.
    grabbed_place = arranger.place(thing);
    grab = grabbed_place;
    if (arranger.is_box(thing)) {
        const auto [low, high] = Furniture::extent(arranger.now().boxes[thing], arranger.box());
        grab.z = (low.z + high.z) / 2;
    }
    if (const auto at = Stage::meet_level(stage.ray(x, y), grab.z)) grab = *at;
    stale = true;
}

void RoomWindow::Parts::move(int x, int y) {
    if (grip == Grip::cursor) {
        // Outside the charts the cursor keeps to their height.
        const Rectangle plot = curves.plot_area();
        const double inside = std::clamp(double(x), plot.x, plot.right());
        if (const auto f = curves.frequency_at(inside, plot.y + plot.height / 2)) {
            arranger.set_frequency(*f);
            ask(true);
        }
    } else if (grip == Grip::view) {
        stage.orbit(0.35 * (x - last[0]), 0.35 * (last[1] - y));
        stale = true;
    } else if (grip == Grip::thing) {
        if (const auto at = Stage::meet_level(stage.ray(x, y), grab.z)) {
            arranger.move(held,
                          {grabbed_place.x + at->x - grab.x, grabbed_place.y + at->y - grab.y, 0},
                          magnet);
            ask(true);
        }
    }
    last = {x, y};
}

void RoomWindow::Parts::release(int, int) {
    if (grip == Grip::thing || grip == Grip::cursor) ask(false);
    grip = Grip::none;
}

void RoomWindow::Parts::nudge(double right, double back) {
    const Point at = arranger.place(arranger.chosen());
    arranger.begin_step();
    arranger.move(arranger.chosen(), {at.x + nudge_step * right, at.y + nudge_step * back, at.z},
                  0);
    spot = -1;
    ask(false);
}

void RoomWindow::Parts::next_spot(int step) {
    if (!arranger.is_box(arranger.chosen())) arranger.choose(0);
    spot_wanted += step;
    const auto same_seats = [&] {
        const auto &a = ranking->arrangement.seats, &b = arranger.now().seats;
        return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                          [](const Seat& p, const Seat& q) { return p.at == q.at; });
    };
    const bool valid =
        ranking && ranking->arrangement.volume == arranger.now().volume && same_seats();
    if (valid)
        go_to_spot();
    else
        ranking_beside.ask(arranger.now());
    stale = true;
}

void RoomWindow::Parts::go_to_spot() {
    if (spot_wanted == 0 || !ranking) return;
    if (ranking->spots.empty()) {
        spot_wanted = 0;
        notice.message = ranking->trouble.empty() ? "No spot is free for this box."
                                                  : "No ranking: " + ranking->trouble;
        return;
    }
    const int count = static_cast<int>(ranking->spots.size());
    spot = std::clamp(spot + spot_wanted, 0, count - 1);
    spot_wanted = 0;
    arranger.begin_step();
    arranger.take_place(arranger.chosen(), ranking->spots[spot]);
    notice.message = "Spot " + std::to_string(spot + 1) + " of " + std::to_string(count) +
                     (arranger.boxes() > 1 ? " for one sub by itself." : ".");
    ask(false);
}

std::string RoomWindow::Parts::guarded(const std::function<std::string()>& work) {
    try {
        const std::string path = work();
        saved.push_back(path);
        return "Wrote " + path;
    } catch (const Error& error) {
        return error.faults().front().where + ": " + error.faults().front().what;
    }
}

void RoomWindow::Parts::save_picture() {
    if (view.prepare)
        stale = true, draw_if_needed();  // settling would take seconds
    else
        settle();
    notice.message = guarded([&] { return options.save("view", ".png", stage.picture()); });
    stale = true;
}

void RoomWindow::Parts::write_room() {
    notice.message =
        guarded([&] { return options.save("arranged", ".toml", view.room_file(arranger.now())); });
    stale = true;
}

void RoomWindow::Parts::step_mode(int by) {
    if (view.modes.empty())
        notice.message = "No formula names the modes of a room that is no rectangle.";
    arranger.step_mode(by);
    ask(false);
}

void RoomWindow::Parts::scale_box(double by) {
    arranger.begin_step();
    if (arranger.scale_volume(by))
        ask(false);
    else
        notice.message = "No such box goes into this room.";
}

void RoomWindow::Parts::undo() {
    if (!arranger.undo()) {
        notice.message = "Nothing to take back: everything is as at the beginning.";
        return;
    }
    spot = -1;
    std::string left;
    for (const std::string& name : arranger.changed()) left += (left.empty() ? "" : ", ") + name;
    notice.message = left.empty() ? "Taken back: everything is as at the beginning."
                                  : "Taken back. Still changed: " + left + ".";
    ask(false);
}

void RoomWindow::Parts::key(const std::string& symbol) {
    const auto action = action_of(symbol);
    if (!action) return;
    stale = true;
    change_room(*action);
    change_view(*action);
}

/// What moves or changes things in the room; nothing for other keys.
void RoomWindow::Parts::change_room(Action action) {
    switch (action) {
        case Action::choose:
            arranger.choose_next();
            spot = -1;
            break;
        case Action::left:
            return nudge(-1, 0);
        case Action::right:
            return nudge(1, 0);
        case Action::forward:
            return nudge(0, -1);
        case Action::backward:
            return nudge(0, 1);
        case Action::next_spot:
            return next_spot(1);
        case Action::previous_spot:
            return next_spot(-1);
        case Action::frequency_up:
            arranger.step_frequency(1);
            return ask(false);
        case Action::frequency_down:
            arranger.step_frequency(-1);
            return ask(false);
        case Action::mode_up:
            return step_mode(1);
        case Action::mode_down:
            return step_mode(-1);
        case Action::larger_box:
            return scale_box(1.05);
        case Action::smaller_box:
            return scale_box(1 / 1.05);
        case Action::undo:
            return undo();
        case Action::start_again:
            arranger.begin_step();
            arranger.reset();
            spot = -1;
            return ask(false);
        default:
            break;
    }
}

/// What changes the view of it, and what goes out; nothing for other keys.
void RoomWindow::Parts::change_view(Action action) {
    switch (action) {
        case Action::keys:
            notice.show_keys = !notice.show_keys;
            break;
        case Action::field:
            field = after(field);
            break;
        case Action::walls:
            arranger.show_on_walls(!arranger.now().on_walls);
            if (field == FieldKind::none) field = FieldKind::level;
            return ask(false);
        case Action::animate:
            animated = !animated;
            if (animated) field = FieldKind::pressure;
            break;
        case Action::reset_view:
            stage.reset_camera();
            break;
        case Action::save_picture:
            return save_picture();
        case Action::write_room:
            return write_room();
        case Action::close:
            interactor->TerminateApp();
            break;
        default:
            break;
    }
}

}  // namespace boxroom
