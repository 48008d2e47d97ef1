#pragma once
#include <vtkInteractorStyle.h>

#include <functional>
#include <string>

namespace boxroom {

/// What comes in by mouse, keyboard and clock, passed on in window pixels (y upwards).
struct Handlers {
    std::function<void(int x, int y)> press, move, release;
    std::function<void(int right, int up)> shift;
    std::function<void(double factor)> zoom;
    std::function<void(const std::string& symbol)> key;
    std::function<void()> tick;
};

/// An interactor style that decides nothing itself.
class Hands : public vtkInteractorStyle {
  public:
    static Hands* New();
    vtkTypeMacro(Hands, vtkInteractorStyle)

        Handlers handlers;

    void OnLeftButtonDown() override;
    void OnLeftButtonUp() override;
    void OnMouseMove() override;
    void OnRightButtonDown() override { shifting_ = true; }
    void OnRightButtonUp() override { shifting_ = false; }
    void OnMiddleButtonDown() override { shifting_ = true; }
    void OnMiddleButtonUp() override { shifting_ = false; }
    void OnMouseWheelForward() override { handlers.zoom(1.1); }
    void OnMouseWheelBackward() override { handlers.zoom(1 / 1.1); }
    void OnKeyPress() override;
    void OnChar() override {}  // VTK's own keys would compete with ours
    void OnTimer() override { handlers.tick(); }
    void OnConfigure() override { handlers.tick(); }

  private:
    bool shifting_ = false;
};

}  // namespace boxroom
