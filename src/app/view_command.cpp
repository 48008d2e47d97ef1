// view: the window, its picture, and replayed events.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>

#include "answers/criteria_output.hpp"
#include "answers/room_days.hpp"
#include "app/drawing.hpp"
#include "app/recording_output.hpp"
#include "app/view_model.hpp"
#include "base/error.hpp"
#include "base/levels.hpp"
#include "files/output_place.hpp"
#include "files/staging.hpp"
#include "placement/listening.hpp"
#include "room_file/room_file.hpp"

namespace boxroom {
namespace {

using Json = nlohmann::ordered_json;

Json point_json(const Point& p) {
    return {p.x, p.y, p.z};
}

/// The field's level at its own points nearest to the seats.
Json field_at_seats(const RoomAnswer& answer) {
    const FieldPlane& plane = answer.field;
    Json out = Json::array();
    if (plane.pressure.empty()) return out;
    for (const Seat& seat : answer.heard.seats) {
        const auto nearest = [](double x, double side, int count) {
            return std::clamp(static_cast<int>(std::lround(x / side * (count - 1))), 0, count - 1);
        };
        const int u = nearest(seat.at.x, plane.along_u.x, plane.nu);
        const int v = nearest(seat.at.y, plane.along_v.y, plane.nv);
        const auto pressure = plane.pressure[static_cast<std::size_t>(v) * plane.nu + u];
        out.push_back(
            {{"point_m", point_json(plane.at(u / (plane.nu - 1.0), v / (plane.nv - 1.0)))},
             {"level_db", level_db(std::norm(pressure))}});
    }
    return out;
}

/// Everything a program may want to know of what is shown.
Json state_json(const WindowState& state) {
    const RoomAnswer& answer = state.answer;
    const Listening& heard = answer.heard;
    Json json;
    json["box"] = {
        {"volume_l", answer.box.volume * 1e3},
        {"qtc", answer.box.qtc},
        {"outer_m", {answer.box.outer.width, answer.box.outer.depth, answer.box.outer.height}}};
    json["subs"] = Json::array();
    for (const StandingBox& box : answer.arrangement.boxes)
        json["subs"].push_back({{"name", box.sub.name},
                                {"at_m", point_json(box.sub.at)},
                                {"footprint_m", {box.footprint.x, box.footprint.y}},
                                {"stands_m", {box.width, box.depth}}});
    json["seats"] = Json::array();
    const std::size_t seats = heard.seats.size();
    for (std::size_t s = 0; s < seats; ++s) {
        json["seats"].push_back({{"name", heard.seats[s].name},
                                 {"at_m", point_json(heard.seats[s].at)},
                                 {"level_db", heard.level_db.over_frequency(s)}});
    }
    json["frequency_hz"] = heard.frequency;
    json["seat_average_db"] = heard.seat_average_db;
    json.update(criteria_json(heard.criteria));
    json["field"] = {{"kind", state.field},
                     {"frequency_hz", answer.arrangement.frequency},
                     {"height_m", answer.field.corner.z},
                     {"at_seats", field_at_seats(answer)},
                     {"exact", !answer.rough}};
    Json window;
    window["height_px"] = state.height;
    window["room_px"] = state.viewport;
    window["plot_px"] = state.plot_area;
    window["plot_db"] = {state.level_low, state.level_high};
    window["plot_hz"] = {state.first_hz, state.last_hz};
    window["projection"] = state.projection;
    window["handles"] = Json::array();
    for (const auto& handle : state.handles)
        window["handles"].push_back({{"kind", handle.kind},
                                     {"name", handle.name},
                                     {"pixel", {handle.x, handle.y}},
                                     {"grab_m", point_json(handle.grab)}});
    window["labels"] = Json::array();
    for (const auto& label : state.labels)
        window["labels"].push_back({{"text", label.text}, {"px", label.where}});
    window["message"] = state.message;
    json["window"] = window;
    json["saved"] = state.saved;
    json["changed"] = state.changed;
    return json;
}

double median(std::vector<double> values) {
    if (values.empty()) return 0;
    std::nth_element(values.begin(), values.begin() + values.size() / 2, values.end());
    return values[values.size() / 2];
}

/// folder/stem_N.ending with the first number not yet taken.
std::string save_numbered(const std::filesystem::path& folder, const std::string& stem,
                          const std::string& ending, const std::string& bytes,
                          const InputFiles& inputs) {
    for (int n = 1;; ++n) {
        const auto path = folder / (stem + "_" + std::to_string(n) + ending);
        std::error_code none;
        if (std::filesystem::exists(std::filesystem::symlink_status(path, none))) continue;
        write_output(path, bytes, inputs);
        return path.string();
    }
}

/// The recordings of what the window shows, all subs together, as curves of their seats. In any
/// room by the solver of `listen`, since the window's own is too slow to wait for.
void show_recordings(const std::vector<BesidePrediction>& beside, RoomView& view) {
    for (const BesidePrediction& one : beside) {
        const Recording& recording = one.heard.recording;
        const bool all = !recording.sub || view.start.boxes.size() == 1;
        const auto seat = std::ranges::find_if(
            view.start.seats, [&](const Seat& s) { return s.name == recording.seat; });
        if (recording.box_on_seat || !all || seat == view.start.seats.end()) continue;
        MeasuredCurve curve{static_cast<std::size_t>(seat - view.start.seats.begin()), {}, {}};
        for (std::size_t f = 0; f < one.heard.frequency.size(); ++f)
            if (one.heard.trusted[f]) {
                curve.frequency.push_back(one.heard.frequency[f]);
                curve.level_db.push_back(one.heard.level_db[f] + one.offset_db);
            }
        if (curve.frequency.size() > 1) view.measured.push_back(std::move(curve));
    }
}

/// Events as they happen, beside the file that they are to be when the window is shut.
class EventFile {
  public:
    EventFile(const std::filesystem::path& path, const InputFiles& inputs)
        : path_(path),
          inputs_(inputs),
          staging_(output_staging(path, MarkedKind::recording, inputs)) {}
    std::string file() const { return (staging_.path() / "events.log").string(); }
    void finish() const {
        std::ifstream in(file(), std::ios::binary);
        write_output(path_, marked_recording({std::istreambuf_iterator<char>(in), {}}), inputs_);
    }

  private:
    std::filesystem::path path_;
    const InputFiles& inputs_;
    Staging staging_;
};

/// "1920x1080"; smaller than 900 x 600 the numbers beside the room have no place.
void read_size(const std::string& text, WindowOptions& options) {
    char end = 0;
    if (std::sscanf(text.c_str(), "%dx%d%c", &options.width, &options.height, &end) != 2 ||
        options.width < 900 || options.height < 600 || options.width > 8000 ||
        options.height > 8000)
        throw Error("--size " + text, "this is no size for the window",
                    "write for example 1920x1080, from 900x600 to 8000x8000");
}

}  // namespace

Answer run_view(const Request& request) {
    Session session(request);
    const DrawingAhead ahead;
    warn_of_open_days(session);
    const auto heard = heard_recordings(session, session.scenario.acoustics.frequency);
    std::vector<std::string> said;  // by make_room_view too
    const auto beside =
        beside_predictions(session, chosen_box(session.scenario, session.driver, said), heard);
    for (const PlacedSub& sub : session.scenario.placed.subs)
        if (sub.volume > 0)
            throw Error(request.file,
                        "the sub \"" + sub.name +
                            "\" has a volume of its own, and the "
                            "window shows boxes of one size only",
                        "take `volume` out of [[sub]], or use `listen` and `map`");
    WindowOptions options;
    options.units = request.units;
    if (request.size) read_size(*request.size, options);
    if (request.screenshot)
        require_free_output(*request.screenshot, MarkedKind::png, session.inputs);
    std::optional<EventFile> recording;
    if (request.record && !request.replay && !request.screenshot)
        recording.emplace(*request.record, session.inputs);
    drawing().require_display();
    RoomView view = make_room_view(session.scenario, session.driver, session.warnings);
    show_recordings(beside, view);
    options.off_screen = request.screenshot || request.replay;
    options.save = [&](const std::string& stem, const std::string& ending,
                       const std::string& bytes) {
        return save_numbered(session.folder(), stem, ending, bytes, session.inputs);
    };
    WindowWish wish;
    wish.replay = request.replay;
    if (recording) wish.record = recording->file();
    wish.shown = !request.replay && !request.screenshot;
    wish.picture = request.screenshot.has_value();
    const auto [state, picture] = drawing().use_window(view, options, wish);
    if (request.screenshot) write_output(*request.screenshot, picture, session.inputs);
    if (recording) recording->finish();

    session.timings["update"] = median(state.update_seconds);
    session.timings["draw"] = median(state.draw_seconds);
    Answer answer;
    answer.json = state_json(state);
    for (const BesidePrediction& one : beside)
        answer.json["recordings"].push_back(
            {{"name", one.heard.recording.name}, {"apart_db", one.apart_db}});
    answer.json["frames"] = state.draw_seconds.size();
    for (const std::string& path : state.saved) answer.text += "Wrote " + path + "\n";
    if (request.screenshot) answer.text += "Wrote " + *request.screenshot + "\n";
    session.finish(answer);
    return answer;
}

}  // namespace boxroom
