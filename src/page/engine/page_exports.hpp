#pragma once

// What the page's worker calls and is called by: compiled to WebAssembly only (src/engine.cmake).
extern "C" {

/// Room for a request of `bytes` bytes, UTF-8. Until the next call.
char* page_request(int bytes);
/// The answer to the request that was written there (page/page_answer.hpp), UTF-8, ending in 0.
/// Until the next call. Says its progress through page_progress.
const char* page_reply();

/// The worker's own: what is being done (UTF-8, ending in 0) and the share that is behind it.
void page_progress(const char* phase, double share);
}
