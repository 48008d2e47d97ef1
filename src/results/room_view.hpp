#pragma once
#include <array>
#include <complex>
#include <functional>
#include <string>
#include <vector>

#include "results/listening.hpp"
#include "results/plan.hpp"

/// What the interactive window shows, and the functions it is handed to keep it true. The window
/// never sees a solver: it says how things are arranged and gets back what that sounds like.
namespace boxroom {

/// The box every sub of the room is built as.
struct BoxSize {
    double volume = 0, qtc = 0, fc = 0;       ///< net [m3], -, [Hz]
    double width = 0, depth = 0, height = 0;  ///< outer, the driver's panel width x height [m]
    double feet = 0;                          ///< bottom above the floor [m]
    double cone_radius = 0;                   ///< [m]
    bool same_size(const BoxSize& other) const { return volume == other.volume; }
};

/// A sub with the box round it. `sub.at` is the acoustic centre, the truth for every level.
struct StandingBox {
    PlacedSub sub;
    Point footprint;                 ///< centre of the box on the floor
    double width = 0, depth = 0;     ///< outer, along x and y as it stands [m]
    std::array<double, 3> facing{};  ///< unit vector the driver looks along
};

struct Arrangement {
    std::vector<Seat> seats;
    std::vector<StandingBox> boxes;
    double volume = 0;     ///< net volume of the box [m3]
    double frequency = 0;  ///< of the field shown [Hz]
};

/// Complex pressure on a horizontal plane from wall to wall, pressure[iy * nx + ix] [Pa].
struct FieldPlane {
    int nx = 0, ny = 0;
    double height = 0, frequency = 0;  ///< [m], [Hz]
    std::vector<std::complex<float>> pressure;
};

struct RoomAnswer {
    Arrangement arrangement;  ///< what was asked
    Listening heard;
    BoxSize box;
    FieldPlane field;
    std::string trouble;  ///< a sentence where nothing could be worked out
    double seconds = 0;   ///< how long it took
};

struct WallLook {
    std::string name, construction;
    double absorption = 0;  ///< random incidence, 63 Hz
};

struct ModeTick {
    double frequency = 0;
    std::array<int, 3> order{};
};

/// The room as it is, the arrangement to begin with, and what can be asked. `recompute` is called
/// from one thread beside the window, `rank` from another; the rest must return within a frame.
struct RoomView {
    std::string title;
    double width = 0, length = 0, height = 0, gap = 0;  ///< gap: box to wall [m]
    std::array<WallLook, 6> walls;                      ///< left right front back floor ceiling
    std::vector<KeepOut> keep_outs;
    std::vector<ModeTick> modes;
    std::vector<double> frequency;
    double band_low = 0, band_high = 0;  ///< target band [Hz]
    Arrangement start;
    std::string note;  ///< shown at the beginning

    /// `draft` while dragging: 0.001 dB; otherwise exactly what `listen` gives.
    std::function<RoomAnswer(const Arrangement&, bool draft)> recompute;
    std::function<BoxSize(double volume)> box_size;
    /// The same sub with its box centred there, on the floor.
    std::function<StandingBox(const StandingBox&, Point footprint, double volume)> stand;
    /// The best spots for one box of this volume, best first.
    std::function<std::vector<StandingBox>(const Arrangement&)> rank;
    std::function<std::string(const Arrangement&)> room_file;
};

}  // namespace boxroom
