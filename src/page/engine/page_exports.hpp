#pragma once
#include "live/live_exports.hpp"

// What the page's worker calls and is called by: compiled to WebAssembly only (src/engine.cmake).
extern "C" {

/// Room for a request of `bytes` bytes, UTF-8. Until the next call.
char* page_request(int bytes);
/// The answer to the request that was written there (page/page_answer.hpp), UTF-8, ending in 0.
/// Until the next call. Says its progress through page_progress.
const char* page_reply();

/// What that plan has learnt of its room, for live_take, and how many bytes it is.
const char* page_learnt();
int page_learnt_size();

/// live_learn (live/live_exports.hpp), its progress through page_progress.
void page_learn(LiveHandle* handle);

/// The worker's own: what is being done (UTF-8, ending in 0) and the share that is behind it.
void page_progress(const char* phase, double share);
}
