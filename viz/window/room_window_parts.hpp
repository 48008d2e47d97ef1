#pragma once
#include <vtkInteractorEventRecorder.h>
#include <vtkRenderWindowInteractor.h>

#include <chrono>

#include "viz/arranger.hpp"
#include "viz/window/beside.hpp"
#include "viz/window/furniture.hpp"
#include "viz/window/hands.hpp"
#include "viz/window/keys.hpp"
#include "viz/window/overlay.hpp"
#include "viz/window/room_window.hpp"

namespace boxroom {

struct Asked {
    Arrangement arrangement;
    bool draft = false;
};
/// What the thread that prepares says of itself, read by the window.
class Progress {
  public:
    void say(const std::string& what, double share);
    std::string text();

  private:
    std::mutex mutex_;
    std::string text_;
};
/// Spots, best first, and what they hold for.
struct Ranked {
    Arrangement arrangement;
    std::vector<StandingBox> spots;
    std::string trouble;
};

/// The window's insides: what is shown, what is going on, and what runs beside it.
struct RoomWindow::Parts {
    Parts(const RoomView& view, WindowOptions options);

    // room_window.cpp: drawing and waiting
    void ask(bool draft);
    void prepare();       ///< what the arrangement needs worked out, if it is a new one
    void take_answers();  ///< what came in from beside, if anything
    void take_listening(RoomAnswer news);
    std::string working_now();
    bool busy();
    void draw_if_needed();  ///< layout, text, render
    void settle();          ///< waits for everything asked, then draws
    void tick();

    // room_window_actions.cpp: mouse and keys
    void connect();
    void press(int x, int y);
    void move(int x, int y);
    void release(int x, int y);
    void key(const std::string& symbol);
    void change_room(Action action);
    void change_view(Action action);
    void nudge(double right, double back);
    void next_spot(int step);
    void step_mode(int by);
    void scale_box(double by);
    void undo();
    void go_to_spot();
    void save_picture();
    void write_room();
    int thing_under(int x, int y);
    std::string guarded(const std::function<std::string()>& work);

    const RoomView& view;
    WindowOptions options;
    Arranger arranger;
    Stage stage;
    RoomScene scene;
    FieldSlice slice;
    Furniture furniture;
    CurvePanel curves;
    Overlay overlay;
    vtkSmartPointer<vtkRenderWindowInteractor> interactor;
    vtkSmartPointer<Hands> hands;
    vtkSmartPointer<vtkInteractorEventRecorder> recorder;

    RoomAnswer answer;  ///< the newest that came in, with the last levels that were known
    std::optional<Arrangement> prepared_for;  ///< what was last asked of preparing_beside
    Progress progress;
    std::optional<Ranked> ranking;
    int spot = -1;        ///< of the ranking, where the chosen sub stands
    int spot_wanted = 0;  ///< steps to go once the ranking is there
    Notice notice;
    FieldKind field = FieldKind::level;
    bool animated = false;
    double phase = 0;
    bool stale = true;     ///< the picture is older than what it shows
    bool waiting = false;  ///< replay: every answer is waited for
    std::array<int, 2> laid_out{0, 0};

    enum class Grip { none, thing, cursor, view };
    Grip grip = Grip::none;
    int held = 0;
    Point grab, grabbed_place;
    std::array<int, 2> last{0, 0};

    std::vector<double> update_seconds, draw_seconds;
    std::vector<std::string> saved;
    std::chrono::steady_clock::time_point last_tick = std::chrono::steady_clock::now();

    // Last, so that they end first.
    Beside<Asked, RoomAnswer> listening;
    Beside<Arrangement, Ranked> ranking_beside;
    Beside<Arrangement, Preparation> preparing_beside;
};

}  // namespace boxroom
