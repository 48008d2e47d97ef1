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

}  // namespace

char* page_request(int bytes) {
    request().assign(static_cast<std::size_t>(bytes), ' ');
    return request().data();
}

const char* page_reply() {
    reply() = boxroom::page_answer(request(), [](const std::string& phase, double share) {
        page_progress(phase.c_str(), share);
    });
    return reply().c_str();
}
