#pragma once
#include <vtkRenderer.h>

#include <string>
#include <vector>

#include "results/room_view.hpp"
#include "viz/canvas.hpp"

namespace boxroom {

/// What does not move: edges, walls coloured by construction, floor with its keep-outs, openings,
/// blocks. Walls and tall blocks are seen from inside only, so that the ones between the eye and
/// the room never stand in the way.
class RoomScene {
  public:
    RoomScene(const RoomView& view, vtkRenderer* walls, vtkRenderer* room);

    struct Construction {
        std::string name, where;  ///< "brick, plastered"; "left, back"
        Colour colour;
    };
    const std::vector<Construction>& constructions() const { return constructions_; }

  private:
    Colour colour_of(const std::string& construction, const std::string& where);
    void add_walls(const RoomView& view, vtkRenderer* renderer);
    void add_floor(const RoomView& view, vtkRenderer* renderer);
    void add_openings(const RoomView& view, vtkRenderer* renderer);
    void add_blocks(const RoomView& view, vtkRenderer* walls, vtkRenderer* room);

    std::vector<Construction> constructions_;
    Colour floor_colour_;
};

}  // namespace boxroom
