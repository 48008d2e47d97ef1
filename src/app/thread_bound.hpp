#pragma once

namespace boxroom {

/// Keeps teams of threads within reason.
///
/// OpenMP lays out a team on the stack, and OMP_NUM_THREADS=100000 overflows it. What that variable
/// says holds for threads started later too (the window's), and is read once, before main: where it
/// is too large, this starts the program anew with the same `arguments` and a bounded one.
void bound_threads(char** arguments);

/// As many threads as were asked for, within the same bound; 0: as many as OpenMP would take.
void use_threads(int asked);

}  // namespace boxroom
