#pragma once
#include <algorithm>
#include <array>
#include <complex>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "base/sides.hpp"
#include "results/listening.hpp"
#include "results/plan.hpp"

/// What the interactive window shows, and the functions it is handed to keep it true. The window
/// never sees a solver: it says how things are arranged and gets back what that sounds like.
namespace boxroom {

/// The box every sub of the room is built as.
struct BoxSize {
    double volume = 0, qtc = 0, fc = 0;  ///< net [m3], -, [Hz]
    Sides outer;                         ///< as built
    double feet = 0;                     ///< bottom above the floor [m]
    double cone_radius = 0;              ///< [m]
    bool same_size(const BoxSize& other) const { return volume == other.volume; }
};

/// A sub with the box round it. `sub.at` is the acoustic centre, the truth for every level.
struct StandingBox {
    PlacedSub sub;
    Point footprint;               ///< centre of the box on the floor
    double width = 0, depth = 0;   ///< outer, along x and y as it stands [m]
    Facing facing = Facing::back;  ///< never `inward`
};

struct Arrangement {
    std::vector<Seat> seats;
    std::vector<StandingBox> boxes;
    double volume = 0;      ///< net volume of the box [m3]
    double frequency = 0;   ///< of the field shown [Hz]
    bool on_walls = false;  ///< the field is wanted on the walls too

    /// Whether seats and boxes stand where they do there.
    bool stands_as(const Arrangement& other) const {
        return std::ranges::equal(seats, other.seats, {}, &Seat::at, &Seat::at) &&
               std::ranges::equal(
                   boxes, other.boxes, {}, [](const StandingBox& box) { return box.sub.at; },
                   [](const StandingBox& box) { return box.sub.at; });
    }
};

/// Complex pressure on a rectangle, pressure[iv * nu + iu] [Pa] from corner to corner.
struct FieldPlane {
    int nu = 0, nv = 0;
    Point corner, along_u, along_v;  ///< first point; from it to the last along u and along v [m]
    double frequency = 0;            ///< [Hz]
    std::vector<std::complex<float>> pressure;
    std::vector<std::uint8_t> outside;  ///< of every cell: 1 where there is no air; empty: nowhere
    Point at(double u, double v) const {  ///< shares of the way, 0 to 1
        return {corner.x + u * along_u.x + v * along_v.x, corner.y + u * along_u.y + v * along_v.y,
                corner.z + u * along_u.z + v * along_v.z};
    }
};

struct RoomAnswer {
    Arrangement arrangement;  ///< what was asked
    Listening heard;
    BoxSize box;
    FieldPlane field;                     ///< at ear height
    std::vector<FieldPlane> wall_fields;  ///< where they were asked for
    bool has_levels = true;               ///< false: `heard` waits for RoomView::prepare
    bool rough = false;                   ///< the fields are a sketch until prepare is done
    std::string trouble;                  ///< a sentence where nothing could be worked out
    double seconds = 0;                   ///< how long it took
};

/// A wall, the floor or the ceiling: a flat polygon, and what it is made of.
struct SurfaceLook {
    std::string name, construction;
    std::vector<Point> corners;
    Point inward;  ///< points into the room
};

/// A cuboid in the room, or a room next door.
struct CuboidLook {
    std::string name, construction;
    Point from, to;
};

/// A hole in a wall: the rectangle, and where it leads.
struct OpeningLook {
    std::string name, leads_to;
    std::vector<Point> corners;
};

/// What a microphone heard at a seat with the boxes where the file has them.
struct MeasuredCurve {
    std::size_t seat = 0;
    std::vector<double> frequency, level_db;
};

/// What is left to be worked out for an arrangement.
struct Preparation {
    bool more = false;    ///< ask again: this was one step
    std::string trouble;  ///< a sentence where it cannot be done
};

struct ModeTick {
    double frequency = 0;
    std::array<int, 3> order{};
};

/// The room as it is, the arrangement to begin with, and what can be asked. `recompute`, `prepare`
/// and `rank` are each called from a thread of their own beside the window; the rest must return
/// within a frame.
struct RoomView {
    std::string title;
    double width = 0, length = 0, height = 0, gap = 0;  ///< gap: box to wall [m]
    std::vector<Point> outline;                         ///< corners of the floor, in order
    std::vector<SurfaceLook> surfaces;                  ///< the room's own walls, floor and ceiling
    std::vector<CuboidLook> blocks, spaces;
    std::vector<OpeningLook> openings;
    std::vector<KeepOut> keep_outs;
    std::vector<KeepOut> no_floor;  ///< of the rectangle width x length, what is not in the room
    std::vector<ModeTick> modes;
    std::vector<double> frequency;
    double band_low = 0, band_high = 0;  ///< target band [Hz]
    Arrangement start;
    std::vector<MeasuredCurve>
        measured;       ///< of `start`: shown while its boxes and seats stand there
    std::string note;   ///< shown at the beginning
    std::string decay;  ///< how far the room rings from any that was measured; stays

    /// `draft` while dragging: 0.001 dB; otherwise exactly what `listen` gives.
    std::function<RoomAnswer(const Arrangement&, bool draft)> recompute;
    /// Where a room takes seconds to solve: one step of what `recompute` wants to know for this
    /// arrangement and for drags from here. `say` is told what is done and its share; `stop` may
    /// end it early. Empty where `recompute` knows everything at once.
    std::function<Preparation(const Arrangement&,
                              const std::function<void(const std::string&, double)>& say,
                              const std::function<bool()>& stop)>
        prepare;
    std::function<BoxSize(double volume)> box_size;
    /// The same sub with its box centred there, on the floor.
    std::function<StandingBox(const StandingBox&, Point footprint, double volume)> stand;
    /// The best spots for one box of this volume, best first.
    std::function<std::vector<StandingBox>(const Arrangement&)> rank;
    std::function<std::string(const Arrangement&)> room_file;
};

/// Whether what was measured belongs to this arrangement: nothing has been moved or made larger.
inline bool as_measured(const RoomView& view, const Arrangement& now) {
    return !view.measured.empty() && now.volume == view.start.volume && now.stands_as(view.start);
}

}  // namespace boxroom
