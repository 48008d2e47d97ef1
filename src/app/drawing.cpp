#include "app/drawing.hpp"

#include <dlfcn.h>

#include <future>
#include <stdexcept>
#include <string_view>

namespace boxroom {
namespace {

/// The library is looked for where the program was linked to look: in its own folder or in
/// ../lib/boxroom, wherever both were moved to and by whatever link the program was called.
const DrawingTable* load() {
    void* library = ::dlopen("libboxroom_drawing.so", RTLD_LAZY | RTLD_LOCAL);
    void* door = library ? ::dlsym(library, "boxroom_drawing_table") : nullptr;
    if (!door) {
        const char* why = ::dlerror();
        throw std::runtime_error(std::string("the part that draws cannot be loaded (") +
                                 (why ? why : "empty") +
                                 "): keep it beside the program, or install boxroom again");
    }
    const auto* table = reinterpret_cast<const DrawingTable* (*)()>(door)();
    if (table->version != std::string_view(BOXROOM_VERSION))
        throw std::runtime_error(std::string("the part that draws is of version ") +
                                 table->version + ", the program of " BOXROOM_VERSION +
                                 ": install boxroom again");
    return table;
}

const std::shared_future<const DrawingTable*>& loading() {
    static const std::shared_future<const DrawingTable*> begun =
        std::async(std::launch::async, load).share();
    return begun;
}

}  // namespace

const DrawingTable& drawing() {
    return *loading().get();
}

DrawingAhead::DrawingAhead() {
    loading();
}

DrawingAhead::~DrawingAhead() {
    loading().wait();
}

}  // namespace boxroom
