#include "viz/window/keys.hpp"

#include <algorithm>

namespace boxroom {

const std::vector<Key>& all_keys() {
    static const std::vector<Key> keys{
        {Action::keys, {"h", "H", "F1", "question"}, "h", "show or hide this list"},
        {Action::choose, {"Tab"}, "Tab", "choose the next sub or seat"},
        {Action::left, {"Left", "KP_Left"}, "arrows", "move it by 5 cm"},
        {Action::right, {"Right", "KP_Right"}, "", ""},
        {Action::forward, {"Up", "KP_Up"}, "", ""},
        {Action::backward, {"Down", "KP_Down"}, "", ""},
        {Action::next_spot, {"n", "N"}, "n", "chosen sub to the next spot of the ranking"},
        {Action::previous_spot, {"b", "B"}, "b", "back to the spot before"},
        {Action::frequency_up, {"period", "greater"}, ".", "frequency one step up"},
        {Action::frequency_down, {"comma", "less"}, ",", "frequency one step down"},
        {Action::mode_up, {"m"}, "m", "frequency of the next mode"},
        {Action::mode_down, {"M"}, "M", "frequency of the mode before"},
        {Action::larger_box, {"plus", "KP_Add", "equal"}, "+", "larger box"},
        {Action::smaller_box, {"minus", "KP_Subtract"}, "-", "smaller box"},
        {Action::field, {"f", "F"}, "f", "field: level, pressure, none"},
        {Action::walls, {"s", "S"}, "s", "the field on the walls too, or their constructions"},
        {Action::animate, {"a", "A"}, "a", "let the pressure swing, slowed down"},
        {Action::reset_view, {"v", "V"}, "v", "view as at the beginning"},
        {Action::undo, {"u", "U", "z", "BackSpace"}, "u", "take back the last step"},
        {Action::start_again, {"r", "R"}, "r", "everything as in the file"},
        {Action::save_picture, {"p", "P"}, "p", "save a picture"},
        {Action::write_room, {"w", "W"}, "w", "write the arrangement as a room file"},
        {Action::close, {"q", "Q", "Escape"}, "q", "close"}};
    return keys;
}

std::optional<Action> action_of(const std::string& symbol) {
    for (const Key& key : all_keys())
        if (std::find(key.symbols.begin(), key.symbols.end(), symbol) != key.symbols.end())
            return key.action;
    return std::nullopt;
}

}  // namespace boxroom
