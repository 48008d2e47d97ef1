#include "room_file/fitted_room_file.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/error.hpp"
#include "placement/room_surfaces.hpp"
#include "room_file/room_file_editor.hpp"
#include "room_file/toml_text.hpp"
#include "solvers/stretched_room.hpp"

namespace boxroom {
namespace {

namespace fs = std::filesystem;

/// To what the editor writes, and never beyond.
double floored(double length) {
    return std::floor(length * 1e4) * 1e-4;
}

std::string wall_toml(const Wall& wall) {
    std::string all;
    for (const Branch& b : wall.branches) {
        if (!all.empty()) all += ", ";
        all += fmt::format("{{ resistance = {:.6g}", b.resistance);
        if (b.mass > 0) all += fmt::format(", mass = {:.6g}", b.mass);
        if (b.stiffness > 0) all += fmt::format(", stiffness = {:.6g}", b.stiffness);
        all += " }";
    }
    return wall.branches.size() == 1 ? all : "[" + all + "]";
}

/// Sides, and all that goes with them where the room is more than a rectangle.
void set_shape(const Room& was, const Room& is, RoomFileEditor& editor) {
    const Stretch by = stretch_between(was, is);
    constexpr const char* sides[] = {"room.width", "room.length", "room.height"};
    for (int axis = 0; axis < 3; ++axis) editor.scale_length(sides[axis], by[axis]);
    for (std::size_t n = 0; n < was.plan.outline.size(); ++n)
        for (int axis = 0; axis < 2; ++axis)
            editor.scale_length(fmt::format("room.floor_plan[{}][{}]", n, axis), by[axis]);
    for (const char* tables : {"block", "space", "opening"})
        for (std::size_t n = 0; n < editor.count(tables); ++n)
            for (const char* end : {"from", "to"})
                for (int axis = 0; axis < 3; ++axis)
                    editor.scale_length(fmt::format("{}[{}].{}[{}]", tables, n, end, axis),
                                        by[axis]);
}

void set_room(const Room& was, const Room& is, const Scenario& scenario, RoomFileEditor& editor) {
    set_shape(was, is, editor);
    for (const RoomSurface& surface : room_surfaces(scenario))
        editor.set_toml(surface.path, wall_toml(surface.in(is)));
    if (is.contents.empty()) return;
    const bool named = is.contents.q > 0;  // less or more of it, over the same frequencies
    editor.set_toml("room.contents",
                    fmt::format("{{ {}absorption_area = \"{:.4g} m2\" }}",
                                named ? "like = \"furnished\", " : "", is.contents.area));
}

/// What reached to a wall that has come nearer shall reach to it still.
void keep_within(const Room& room, const Scenario& was, RoomFileEditor& editor) {
    const std::size_t count = editor.count("keep_out");
    const auto& all = was.wanted.keep_outs;  // those of blocks stand before the file's own
    for (std::size_t i = 0; i < count && count <= all.size(); ++i) {
        const KeepOut& area = all[all.size() - count + i];
        const auto path = [i](int axis) { return fmt::format("keep_out[{}].to[{}]", i, axis); };
        if (area.x1 > room.width) editor.set(path(0), Quantity::length, floored(room.width));
        if (area.y1 > room.length) editor.set(path(1), Quantity::length, floored(room.length));
    }
    for (std::size_t i = 0; i < was.placed.mains.size(); ++i) {
        Point at = was.placed.mains[i].at;
        at = {std::min(at.x, floored(room.width)), std::min(at.y, floored(room.length)),
              std::min(at.z, floored(room.height))};
        editor.set_place("main", i, at);
    }
}

/// fc and Qtc move by factors as fs and Qts do; what hangs on them follows, so that the sheet still
/// agrees with itself: Mms ~ fs^-2, Qes and Qms ~ Qts, Bl^2 ~ fs Mms/Qes.
void set_driver(const Scenario& was, const FitState& is, RoomFileEditor& editor) {
    const DriverSheet& sheet = was.design.driver;
    const double f = is.fc_factor, q = is.qtc_factor;
    editor.set("driver.fs", Quantity::frequency, sheet.fs * f);
    editor.set("driver.qts", Quantity::plain, sheet.qts * q);
    if (sheet.qes) editor.set("driver.qes", Quantity::plain, *sheet.qes * q);
    if (sheet.qms) editor.set("driver.qms", Quantity::plain, *sheet.qms * q);
    if (sheet.mms) editor.set("driver.mms", Quantity::mass, *sheet.mms / (f * f));
    if (sheet.bl) editor.set("driver.bl", Quantity::force_factor, *sheet.bl / std::sqrt(f * q));
}

void set_places(const Scenario& was, const RoomFit& fit, RoomFileEditor& editor) {
    for (std::size_t s = 0; s < was.seats.size(); ++s)
        for (const Recording& recording : fit.state.recordings)
            if (recording.seat == was.seats[s].name) editor.set_place("seat", s, recording.at);
    for (std::size_t q = 0; q < was.placed.subs.size(); ++q)
        editor.set_place("sub", q, fit.state.scenario.placed.subs[q].at);
}

/// Root of the mean square of what was found of parameters of a kind; none: 0.
double common_doubt(const RoomFit& fit, FitParameter::Kind kind) {
    double sum = 0;
    int count = 0;
    for (const FittedParameter& p : fit.parameters)
        if (p.kind == kind) sum += p.doubt * p.doubt, ++count;
    return count > 0 ? std::sqrt(sum / count) : 0;
}

/// What the plan draws is as doubtful as the fit left it, where that is less than the file had it.
/// Where people sit and boxes will stand is as doubtful as before.
void set_doubt(const Uncertainty& was, const RoomFit& fit, RoomFileEditor& editor) {
    using Kind = FitParameter::Kind;
    const double walls = std::exp(common_doubt(fit, Kind::wall));
    if (walls < was.wall) editor.set("robustness.wall", Quantity::plain, walls);
    const double sides = common_doubt(fit, Kind::side);
    if (sides > 0 && sides < was.room) editor.set("robustness.room", Quantity::length, sides);
    const double fc = common_doubt(fit, Kind::fc);
    if (fc < was.driver) editor.set("robustness.driver", Quantity::plain, fc);
}

/// Where the walls are as they are written, never beyond them.
void set_furniture(const Block& block, const Room& room, RoomFileEditor& editor) {
    const Point to{std::min(block.to.x, floored(room.width)),
                   std::min(block.to.y, floored(room.length)),
                   std::min(block.to.z, floored(room.height))};
    editor.add_block("Inferred from the recordings by `boxroom fit`; it may stand for furniture.",
                     block.name, block.from, to, wall_toml(block.surface.wall));
}

/// A path as it has to be written in a file of another folder.
std::string seen_from(const fs::path& path, const fs::path& folder) {
    const fs::path whole = fs::absolute(path).lexically_normal();
    const fs::path from = fs::absolute(folder).lexically_normal();
    const fs::path relative = whole.lexically_relative(from);
    return (relative.empty() ? whole : relative).string();
}

/// TOML is UTF-8 alone (toml.io, 1.0), and a folder's name may be any bytes.
bool can_be_written(const std::string& text) {
    try {
        static_cast<void>(toml::parse("text = " + toml_string(text)));
        return true;
    } catch (const toml::parse_error&) {
        return false;
    }
}

void set_recordings(const RoomFit& fit, const Microphone& microphone, const fs::path& folder,
                    RoomFileEditor& editor) {
    for (std::size_t r = 0; r < fit.state.recordings.size(); ++r) {
        const Recording& recording = fit.state.recordings[r];
        const bool sound = !recording.sound.empty();
        editor.set_word(fmt::format("recording[{}].{}", r, sound ? "sound" : "curve"),
                        seen_from(sound ? recording.sound : recording.curve, folder));
    }
    if (!microphone.calibration.empty())
        editor.set_word("microphone.calibration", seen_from(microphone.calibration, folder));
}

}  // namespace

void require_nameable(const Recordings& recordings, const fs::path& folder) {
    std::vector<fs::path> files{recordings.microphone.calibration};
    for (const Recording& one : recordings.all)
        files.push_back(one.sound.empty() ? one.curve : one.sound);
    for (const fs::path& file : files)
        if (!file.empty() && !can_be_written(seen_from(file, folder)))
            throw Error(folder.string(),
                        "fitted.toml cannot name the recordings from there: a folder on the way "
                        "has a name that is no UTF-8",
                        "choose a folder beside the recordings with --out");
}

std::string fitted_room_file(const Scenario& was, const RoomFit& fit, const Microphone& microphone,
                             const fs::path& folder) {
    RoomFileEditor editor(was.source_text);
    const Scenario& is = fit.state.scenario;
    set_room(was.acoustics.room, is.acoustics.room, was, editor);
    editor.set("air.speed_of_sound", Quantity::speed, is.acoustics.air.speed_of_sound);
    set_driver(was, fit.state, editor);
    set_places(was, fit, editor);
    set_doubt(was.judgement.uncertainty, fit, editor);
    keep_within(is.acoustics.room, was, editor);
    if (fit.furniture) set_furniture(fit.furniture->block, is.acoustics.room, editor);
    if (!folder.empty()) set_recordings(fit, microphone, folder, editor);
    return editor.text();
}

}  // namespace boxroom
