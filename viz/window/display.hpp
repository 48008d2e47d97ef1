#pragma once

namespace boxroom {

/// Throws Error, saying what to do, where no window can be opened. To be called before anything of
/// VTK's is made: its windows end the program without a word where there is no display.
void require_display();

}  // namespace boxroom
