// A file of recorded events, played to an interactor without a window: played or refused. What the
// window does with events is tests/bench/view_endurance.py.
#include <vtkInteractorEventRecorder.h>
#include <vtkNew.h>
#include <vtkRenderWindowInteractor.h>

#include "base/error.hpp"
#include "file_in_memory.hpp"
#include "harness.hpp"
#include "viz/window/recorded_events.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    const fuzz::FileInMemory file(fuzz::bytes(data, size));
    try {
        require_recorded_events(file.path());
    } catch (const Error&) {
        return 0;
    }
    const vtkNew<vtkRenderWindowInteractor> nobody;
    // VTK's own has keys that need something drawn; the window's has none of them
    // (viz/window/hands).
    nobody->SetInteractorStyle(nullptr);
    const vtkNew<vtkInteractorEventRecorder> player;
    player->SetInteractor(nobody);
    player->KeyPressActivationOff();
    player->SetFileName(file.path().c_str());
    player->On();
    player->Play();
    player->Off();
    return 0;
}
