// A room file: whatever it holds, it is read or refused; what was read is finite, and the editor
// leaves a text in which nothing is set as it is.
#include <cmath>
#include <stdexcept>
#include <string>

#include "base/error.hpp"
#include "harness.hpp"
#include "room_file/room_file.hpp"
#include "room_file/room_file_editor.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    try {
        const Scenario s = parse_room_file(std::string(fuzz::bytes(data, size)), "room.toml");
        for (const double f : s.acoustics.frequency)
            if (!std::isfinite(f)) throw std::logic_error("a frequency that is no number");
        for (const Seat& seat : s.seats)
            if (!std::isfinite(seat.at.x + seat.at.y + seat.at.z + seat.weight))
                throw std::logic_error("a seat that is nowhere");
        if (!(s.acoustics.room.volume() > 0)) throw std::logic_error("a room without air");
        const std::string text(fuzz::bytes(data, size));
        if (RoomFileEditor(text).text() != text) throw std::logic_error("a text that was not kept");
    } catch (const Error&) {
    }
    return 0;
}
