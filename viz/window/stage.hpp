#pragma once
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>

#include <optional>
#include <string>

#include "results/room_view.hpp"
#include "viz/canvas.hpp"

namespace boxroom {

/// A straight line of sight in the room.
struct Ray {
    Point from;
    std::array<double, 3> along{};  ///< not normalised
};

/// The window's five layers over one another: paper with the curves, the walls, what stands between
/// them, what is seen through everything, and the text; the camera; and the way between pixels and
/// places. Walls are seen from inside only, so they are always behind: in a layer of their own
/// their colour cannot be mixed into the field's, as VTK's order-free blending of one layer would.
class Stage {
  public:
    Stage(const RoomView& view, int width, int height, bool off_screen);

    vtkRenderWindow* window() { return window_; }
    vtkRenderer* paper() { return paper_; }
    vtkRenderer* walls() { return walls_; }
    vtkRenderer* room() { return room_; }
    vtkRenderer* front() { return front_; }
    vtkRenderer* text() { return text_; }

    /// The part of the window the room takes [px, y upwards].
    Rectangle room_area() const;
    Rectangle whole() const;

    void reset_camera();
    void orbit(double right, double up);  ///< degrees
    void zoom(double factor);
    void pan(double right, double up);  ///< pixels

    /// Smoothed edges: for pictures that stand still, too slow for a drag.
    void set_smooth(bool smooth);

    Ray ray(double x, double y);
    Pixel pixel(const Point& p);  ///< y upwards
    /// Where the ray meets a level plane, if it comes to it from the front.
    static std::optional<Point> meet_level(const Ray& ray, double z);

    /// The picture as drawn now, as a PNG file's bytes.
    std::string picture();

  private:
    void keep_in_sight();  ///< nothing of the room is cut off by the camera's near or far end

    double width_, length_, height_;
    std::array<double, 6> bounds_;  ///< of the room and its neighbours, in VTK's axes
    vtkSmartPointer<vtkRenderWindow> window_;
    vtkSmartPointer<vtkRenderer> paper_, walls_, room_, front_, text_;
};

}  // namespace boxroom
