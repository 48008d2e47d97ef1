// A file of distributions: whatever it holds, it is read or refused; rooms that are drawn from it
// are finite, the same twice, and room files.
#include <cmath>
#include <stdexcept>
#include <string>

#include "base/error.hpp"
#include "harness.hpp"
#include "room_file/room_file.hpp"
#include "survey/drawn_room.hpp"
#include "survey/room_text.hpp"
#include "survey/survey_file.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace boxroom;
    try {
        const Survey survey =
            parse_survey_file(std::string(fuzz::bytes(data, size)), "survey.toml");
        const DrawnRoom room = draw_room(survey, survey.rooms - 1);
        if (!std::isfinite(room.width * room.length * room.height * room.fs * room.qts * room.vas))
            throw std::logic_error("a room that is no numbers");
        for (const Point& seat : room.seats)
            if (!(seat.x >= 0 && seat.x <= room.width && seat.y >= 0 && seat.y <= room.length))
                throw std::logic_error("a seat outside the room");
        const std::string text = room_text(survey, room);
        if (room_text(survey, draw_room(survey, survey.rooms - 1)) != text)
            throw std::logic_error("a room that is another the second time");
        parse_room_file(text, "room.toml");
    } catch (const Error&) {
    }
    return 0;
}
