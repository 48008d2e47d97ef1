#include "page/engine/page_exports.hpp"

#include <string>

#include "page/page_answer.hpp"

namespace {

// The worker asks one thing after the other.
std::string& request() {
    static std::string text;
    return text;
}

std::string& reply() {
    static std::string text;
    return text;
}

std::string& learnt() {
    static std::string bytes;
    return bytes;
}

}  // namespace

char* page_request(int bytes) {
    request().assign(static_cast<std::size_t>(bytes), ' ');
    return request().data();
}

const char* page_reply() {
    learnt().clear();
    reply() = boxroom::page_answer(
        request(),
        [](const std::string& phase, double share) { page_progress(phase.c_str(), share); },
        &learnt());
    return reply().c_str();
}

const char* page_learnt() {
    return learnt().data();
}

int page_learnt_size() {
    return static_cast<int>(learnt().size());
}

void page_learn(LiveHandle* handle) {
    live_learn(handle, [](double share) { page_progress("", share); });
}
