#include "placement/decay_words.hpp"

#include "base/number.hpp"

namespace boxroom {
namespace {

/// One decimal below ten seconds: nobody measures more.
std::string seconds(double time) {
    return number(time, time < 9.95 ? 1 : 0) + " s";
}

std::string mode_at(const Mode& mode) {
    return "the mode at " + number(mode.frequency, 0) + " Hz rings " + seconds(mode.decay_time);
}

}  // namespace

std::vector<std::string> decay_words(const PlausibleDecay& decay) {
    namespace rooms = measured_rooms;
    std::vector<std::string> words;
    if (const ModeDecay* live = decay.most_live())
        words.push_back(mode_at(live->mode) + ", in heavy rooms as measured " +
                        seconds(live->heavy) +
                        ": too live. Give the walls their windows and doors as parts.");
    if (const ModeDecay* dead = decay.most_dead())
        words.push_back(mode_at(dead->mode) + ", in timber-frame rooms as measured " +
                        seconds(dead->timber) +
                        ": too dead. Give the walls less absorption; few rooms swallow that much "
                        "bass.");
    const std::string at_125 = "at 125 Hz the room decays in " + seconds(decay.at_125) +
                               ", furnished rooms as measured in " +
                               number(rooms::shortest_at_125, 2) + " to " +
                               number(rooms::longest_at_125, 1) + " s: ";
    if (decay.too_live_at_125())
        words.push_back(at_125 + "too live. Write [room] contents = \"furnished\".");
    if (decay.too_dead_at_125())
        words.push_back(at_125 + "too dead. Use less absorption or fewer contents.");
    return words;
}

std::string decay_note(const PlausibleDecay& decay) {
    if (const ModeDecay* live = decay.most_live())
        return "Too live: " + mode_at(live->mode) + ". Give walls their windows and doors.";
    if (const ModeDecay* dead = decay.most_dead())
        return "Too dead: " + mode_at(dead->mode) + ". Give walls less absorption.";
    if (decay.too_live_at_125())
        return "Too live: " + seconds(decay.at_125) + " at 125 Hz. Give the room contents.";
    if (decay.too_dead_at_125())
        return "Too dead: " + seconds(decay.at_125) + " at 125 Hz. Give it fewer contents.";
    return "";
}

}  // namespace boxroom
