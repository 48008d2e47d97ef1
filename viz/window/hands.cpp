#include "viz/window/hands.hpp"

#include <vtkObjectFactory.h>
#include <vtkRenderWindowInteractor.h>

namespace boxroom {

vtkStandardNewMacro(Hands)

    void Hands::OnLeftButtonDown() {
    const int* at = Interactor->GetEventPosition();
    handlers.press(at[0], at[1]);
}

void Hands::OnLeftButtonUp() {
    const int* at = Interactor->GetEventPosition();
    handlers.release(at[0], at[1]);
}

void Hands::OnMouseMove() {
    const int* at = Interactor->GetEventPosition();
    const int* before = Interactor->GetLastEventPosition();
    if (shifting_)
        handlers.shift(at[0] - before[0], at[1] - before[1]);
    else
        handlers.move(at[0], at[1]);
}

void Hands::OnKeyPress() {
    if (const char* symbol = Interactor->GetKeySym()) handlers.key(symbol);
}

}  // namespace boxroom
