#pragma once
#include <string>

namespace boxroom {

/// Looks through a file of recorded events, as VTK's recorder writes it (vtkInteractorEventRecorder,
/// stream version 1.1: name, x, y, modifiers, key, repeat, symbol), before it is played: the player
/// takes anything for events and says nothing. Throws Error with file and line for a file that is
/// missing, too large, or holds anything else.
void require_recorded_events(const std::string& file);

}  // namespace boxroom
