#pragma once
#include <optional>
#include <string>
#include <vector>

namespace boxroom {

/// What a key does.
enum class Action {
    keys,
    choose,
    left,
    right,
    forward,
    backward,
    next_spot,
    previous_spot,
    frequency_up,
    frequency_down,
    mode_up,
    mode_down,
    larger_box,
    smaller_box,
    field,
    walls,
    animate,
    reset_view,
    undo,
    start_again,
    save_picture,
    write_room,
    close
};

struct Key {
    Action action;
    std::vector<std::string> symbols;  ///< as X names them
    std::string shown, does;           ///< for the list
};

/// Every key, in the order of the list.
const std::vector<Key>& all_keys();
std::optional<Action> action_of(const std::string& symbol);

}  // namespace boxroom
