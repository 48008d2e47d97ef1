#include "viz/window/room_window.hpp"

#include <vtkCamera.h>
#include <vtkMatrix4x4.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>

#include "base/error.hpp"
#include "viz/window/recorded_events.hpp"
#include "viz/window/room_window_parts.hpp"
#include "viz/window/shapes.hpp"

namespace boxroom {
RoomWindow::Parts::Parts(const RoomView& v, WindowOptions o)
    : view(v),
      options(std::move(o)),
      arranger(v),
      stage(v, options.width, options.height, options.off_screen),
      scene(v, stage.walls(), stage.room()),
      slice(stage.room(), stage.walls()),
      furniture(stage.room(), stage.front()),
      curves(v, stage.paper()),
      overlay(v, scene, stage, options.units),
      listening([&v](const Asked& asked) { return v.recompute(asked.arrangement, asked.draft); }),
      ranking_beside([&v](const Arrangement& asked) {
          Ranked ranked{asked, {}, {}};
          try {
              ranked.spots = v.rank(asked);
          } catch (const std::exception& failure) {
              ranked.trouble = failure.what();
          }
          return ranked;
      }),
      preparing_beside([this](const Arrangement& asked) {
          return view.prepare(
              asked, [this](const std::string& what, double share) { progress.say(what, share); },
              [this] { return preparing_beside.outdated(); });
      }) {
    notice.message = view.note.empty() ? "Drag a sub or a seat. Press h for all keys." : view.note;
    interactor = vtkSmartPointer<vtkRenderWindowInteractor>::New();
    interactor->SetRenderWindow(stage.window());
    interactor->EnableRenderOff();  // this class decides when to draw
    hands = vtkSmartPointer<Hands>::New();
    interactor->SetInteractorStyle(hands);
    connect();
    ask(false);
}

void Progress::say(const std::string& what, double share) {
    const std::lock_guard lock(mutex_);
    text_ = what + ", " + std::to_string(5 * static_cast<int>(20 * share)) + " %";
}

std::string Progress::text() {
    const std::lock_guard lock(mutex_);
    return text_;
}

void RoomWindow::Parts::ask(bool draft) {
    stale = true;
    listening.ask({arranger.now(), draft});
    if (!draft) prepare();
}

void RoomWindow::Parts::prepare() {
    if (!view.prepare) return;
    // The frequency or a box of another size at the same place changes nothing in the room.
    const Arrangement& now = arranger.now();
    if (prepared_for && prepared_for->on_walls == now.on_walls && prepared_for->stands_as(now))
        return;
    prepared_for = arranger.now();
    preparing_beside.ask(arranger.now());
}

/// Levels that are not there yet leave the last ones standing; `has_levels` says so.
void RoomWindow::Parts::take_listening(RoomAnswer news) {
    update_seconds.push_back(news.seconds);
    stale = true;
    if (!news.trouble.empty()) {
        notice.message = "Nothing can be worked out here: " + news.trouble + ".";
        return;
    }
    if (!news.has_levels) news.heard = std::move(answer.heard);
    if (news.field.pressure.empty()) news.field = std::move(answer.field);
    answer = std::move(news);
    curves.show(answer.heard, as_measured(view, answer.arrangement));
}

void RoomWindow::Parts::take_answers() {
    if (auto news = listening.take()) take_listening(std::move(*news));
    if (auto news = preparing_beside.take()) {
        if (!news->trouble.empty()) notice.message = "The room cannot be solved: " + news->trouble;
        listening.ask({arranger.now(), grip == Grip::thing});
        if (news->more && prepared_for) preparing_beside.ask(*prepared_for);
    }
    if (auto news = ranking_beside.take()) {
        ranking = std::move(*news);
        spot = -1;
        go_to_spot();
        stale = true;
    }
    const std::string working = working_now();
    if (working != notice.working) notice.working = working, stale = true;
}

std::string RoomWindow::Parts::working_now() {
    if (ranking_beside.busy()) return "ranking the spots";
    return preparing_beside.busy() ? progress.text() : "";
}

bool RoomWindow::Parts::busy() {
    return listening.busy() || ranking_beside.busy() || preparing_beside.busy();
}

void RoomWindow::Parts::draw_if_needed() {
    const int* size = stage.window()->GetSize();
    if (size[0] != laid_out[0] || size[1] != laid_out[1]) stale = true;
    if (!stale) return;
    stale = false;
    const auto start = std::chrono::steady_clock::now();
    if (size[0] != laid_out[0] || size[1] != laid_out[1]) {
        curves.place(Overlay::level_chart(stage.whole()), Overlay::spread_chart(stage.whole()));
        const bool first = laid_out[0] == 0;
        laid_out = {size[0], size[1]};
        // The charts find their axes while they draw, and names are placed beside them.
        if (first) curves.set_cursor(arranger.now().frequency), stage.window()->Render();
    }
    furniture.show(arranger.now(), arranger.box(), arranger.chosen());
    slice.show(answer.field, answer.wall_fields, field, phase);
    slice.draw_last();
    curves.set_cursor(arranger.now().frequency);
    overlay.draw(arranger, answer, slice, curves, notice);
    stage.set_smooth(grip == Grip::none && !animated);
    stage.window()->Render();
    draw_seconds.push_back(
        std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
}

/// In a replay everything is waited for, else only what is seen: exact levels and field.
void RoomWindow::Parts::settle() {
    do {
        ranking_beside.settle();
        listening.settle();
        take_answers();
        const bool seen = answer.has_levels && !answer.rough && !answer.field.pressure.empty();
        if (waiting || !seen) preparing_beside.settle();
        if (seen && !waiting && !listening.busy() && !ranking_beside.busy()) break;
        take_answers();
    } while (busy());
    draw_if_needed();
}

void RoomWindow::Parts::tick() {
    const auto now = std::chrono::steady_clock::now();
    if (animated && field == FieldKind::pressure) {
        // One swing takes two seconds, whatever the frequency: slow enough to follow.
        phase += std::numbers::pi * std::chrono::duration<double>(now - last_tick).count();
        phase = std::fmod(phase, 2 * std::numbers::pi);
        stale = true;
    }
    last_tick = now;
    take_answers();
    draw_if_needed();
}

RoomWindow::RoomWindow(const RoomView& view, WindowOptions options)
    : parts_(std::make_unique<Parts>(view, std::move(options))) {}

RoomWindow::~RoomWindow() = default;

void RoomWindow::show() {
    parts_->stage.window()->Render();
    parts_->interactor->Initialize();
    if (!parts_->view.prepare) parts_->settle();
    // Named when it can be used: who plays a mouse from outside waits for the name.
    parts_->stage.window()->SetWindowName(("boxroom: " + parts_->view.title).c_str());
    parts_->interactor->CreateRepeatingTimer(10);
    parts_->interactor->Start();
    if (!parts_->recorder) return;
    parts_->recorder->Stop();
    parts_->recorder->Off();
    parts_->recorder = nullptr;  // closes its file
}

void RoomWindow::record(const std::string& file) {
    parts_->recorder = vtkSmartPointer<vtkInteractorEventRecorder>::New();
    parts_->recorder->SetInteractor(parts_->interactor);
    parts_->recorder->KeyPressActivationOff();  // else the key i would stop it
    parts_->recorder->SetFileName(file.c_str());
    parts_->recorder->On();
    parts_->recorder->Record();
}

void RoomWindow::replay(const std::string& file) {
    require_recorded_events(file);
    parts_->settle();
    parts_->interactor->Initialize();
    parts_->waiting = true;
    auto player = vtkSmartPointer<vtkInteractorEventRecorder>::New();
    player->SetInteractor(parts_->interactor);
    player->KeyPressActivationOff();
    player->SetFileName(file.c_str());
    player->On();
    player->Play();
    player->Off();
    parts_->settle();
}

std::string RoomWindow::picture() {
    parts_->settle();
    return parts_->stage.picture();
}

WindowState RoomWindow::state() {
    Parts& p = *parts_;
    p.settle();
    WindowState state;
    state.answer = p.answer;
    state.field = p.field == FieldKind::level      ? "level"
                  : p.field == FieldKind::pressure ? "pressure"
                                                   : "none";
    state.height = p.stage.whole().height;
    for (int thing = 0; thing < p.arranger.things(); ++thing) {
        Point grab = p.arranger.place(thing);
        if (p.arranger.is_box(thing)) {
            const auto [low, high] =
                Furniture::extent(p.arranger.now().boxes[thing], p.arranger.box());
            grab.z = (low.z + high.z) / 2;
        }
        const Pixel at = p.stage.pixel(grab);
        state.handles.push_back(
            {p.arranger.is_box(thing) ? "sub" : "seat", p.arranger.name(thing), at.x, at.y, grab});
    }
    const vtkMatrix4x4* world_to_clip =
        p.stage.room()->GetActiveCamera()->GetCompositeProjectionTransformMatrix(
            p.stage.room()->GetTiledAspectRatio(), -1, 1);
    for (int row = 0; row < 4; ++row)
        for (int column = 0; column < 4; ++column)
            state.projection[4 * row + column] =
                world_to_clip->GetElement(row, column) * (column == 1 ? -1 : 1);
    const auto list = [](const Rectangle& r) {
        return std::array<double, 4>{r.x, r.y, r.width, r.height};
    };
    state.viewport = list(p.stage.room_area());
    state.plot_area = list(p.curves.plot_area());
    state.level_low = p.curves.level_low(), state.level_high = p.curves.level_high();
    state.first_hz = p.view.frequency.front(), state.last_hz = p.view.frequency.back();
    for (const TextLayer::Placed& label : p.overlay.text().placed())
        state.labels.push_back({label.text, list(label.where)});
    state.update_seconds = p.update_seconds;
    state.draw_seconds = p.draw_seconds;
    state.saved = p.saved;
    state.changed = p.arranger.changed();
    state.message = p.notice.message;
    return state;
}

}  // namespace boxroom
