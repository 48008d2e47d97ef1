#pragma once

namespace boxroom {

/// From here on SIGINT, SIGTERM and SIGHUP (but those that were ignored when the program started)
/// end it in order: a move of results into place is carried out, what was only begun is taken away,
/// one sentence says so, and the program dies of the signal, as a shell expects. To be called
/// before any other thread is begun.
void end_in_order_on_signals();

}  // namespace boxroom
