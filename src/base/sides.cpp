#include "base/sides.hpp"

namespace boxroom {

std::string facing_name(Facing facing) {
    static const char* const names[] = {"inward", "left", "right", "front", "back", "up", "down"};
    return names[static_cast<int>(facing)];
}

std::optional<Facing> facing_named(std::string_view name) {
    for (const Facing facing : all_facings)
        if (facing_name(facing) == name) return facing;
    return std::nullopt;
}

std::string facing_words(Facing facing) {
    const std::string name = facing_name(facing);
    return lies(facing) || facing == Facing::inward ? name : "the " + name + " wall";
}

Point direction(Facing facing) {
    switch (facing) {
        case Facing::left:
            return {-1, 0, 0};
        case Facing::right:
            return {1, 0, 0};
        case Facing::front:
            return {0, -1, 0};
        case Facing::up:
            return {0, 0, 1};
        case Facing::down:
            return {0, 0, -1};
        case Facing::back:
        case Facing::inward:
            break;
    }
    return {0, 1, 0};
}

Sides turned(const Sides& box, Facing facing) {
    if (facing != Facing::left && facing != Facing::right) return box;
    return {box.depth, box.width, box.height};
}

}  // namespace boxroom
