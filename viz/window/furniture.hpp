#pragma once
#include <vtkActor.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>

#include <utility>
#include <vector>

#include "results/room_view.hpp"

namespace boxroom {

/// What can be moved: boxes to scale with their drivers, and seats as heads on a stem. The edges of
/// the boxes also go into a renderer in front, so that a box under the field is still seen.
class Furniture {
  public:
    Furniture(vtkRenderer* renderer, vtkRenderer* in_front) : behind_(renderer), front_(in_front) {}

    void show(const Arrangement& arrangement, const BoxSize& box, int chosen);

    /// Lowest and highest corner of a box as drawn, and the radius of a seat's head.
    static std::pair<Point, Point> extent(const StandingBox& box, const BoxSize& size);
    static constexpr double head = 0.10;

  private:
    /// The actors of one thing, built round the origin and moved as a whole: making them anew for
    /// every frame of a drag would take longer than drawing them.
    struct Piece {
        std::vector<double> made_for;  ///< everything the shape depends on
        std::vector<std::pair<vtkRenderer*, vtkSmartPointer<vtkActor>>> actors;
    };
    void add(Piece& piece, vtkRenderer* renderer, vtkSmartPointer<vtkActor> actor);
    /// True, and emptied, if it has to be built again.
    bool outdated(Piece& piece, std::vector<double> key);
    void show_box(Piece& piece, const StandingBox& box, const BoxSize& size, bool chosen);
    void show_seat(Piece& piece, const Seat& seat, std::size_t index, bool chosen);

    vtkRenderer *behind_, *front_;
    std::vector<Piece> pieces_;
};

}  // namespace boxroom
