#pragma once
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>
#include <vtkTextActor.h>

#include <string>
#include <vector>

#include "viz/canvas.hpp"

namespace boxroom {

struct Lettering {
    int size = 13;  ///< [px]
    Colour colour{34, 44, 54};
    bool bold = false;
    int across = 0;      ///< -1: x is the left end, 0 the middle, 1 the right end
    double backing = 0;  ///< opacity of the paper behind the text
};

/// All text of the window, set anew for every frame; actors are kept, and VTK draws a text again
/// only where its words changed. Pixels count from the lower left corner, as VTK does it.
class TextLayer {
  public:
    explicit TextLayer(vtkRenderer* renderer) : renderer_(renderer) {}

    void begin();
    /// Puts a line (or several) with its lower edge at y; returns where it lies.
    Rectangle put(double x, double y, const std::string& text, const Lettering& style);
    /// The size it would take.
    Rectangle measure(const std::string& text, const Lettering& style);
    void end();

    struct Placed {
        std::string text;
        Rectangle where;  ///< y upwards: (x, y) is the lower left corner
    };
    const std::vector<Placed>& placed() const { return placed_; }

  private:
    vtkTextActor* actor(const std::string& text, const Lettering& style);

    vtkRenderer* renderer_;
    std::vector<vtkSmartPointer<vtkTextActor>> pool_;
    std::size_t used_ = 0;
    std::vector<Placed> placed_;
};

}  // namespace boxroom
