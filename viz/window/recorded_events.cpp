#include "viz/window/recorded_events.hpp"

#include <vtkCommand.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/error.hpp"

namespace boxroom {
namespace {

constexpr std::uintmax_t most_bytes = 16 << 20;
constexpr const char* record = "record one with --record FILE, or check the name";

bool is_event(const std::string& line) {
    std::istringstream words(line);
    std::string name;
    int x = 0, y = 0, modifiers = 0, key = 0, repeat = 0;
    words >> name >> x >> y >> modifiers >> key >> repeat;
    return words && vtkCommand::GetEventIdFromString(name.c_str()) != vtkCommand::NoEvent;
}

}  // namespace

void require_recorded_events(const std::string& file) {
    std::error_code none;
    if (!std::filesystem::is_regular_file(file, none))
        throw Error(file, "there is no such file of recorded events", record);
    if (std::filesystem::file_size(file, none) > most_bytes)
        throw Error(file, "the file is larger than 16 MB",
                    "no recording is: is this the right file?");
    std::ifstream in(file);
    std::string line;
    for (int number = 1; std::getline(in, line); ++number) {
        if (!line.empty() && line.back() == '\r') line.pop_back();
        const bool head = line.starts_with("# StreamVersion ");
        if (number == 1 && !head)
            throw Error(file + ":1", "this is no file of recorded events", record);
        if (!line.empty() && line[0] != '#' && !is_event(line))
            throw Error(file + ":" + std::to_string(number), "this line is no recorded event",
                        record);
    }
}

}  // namespace boxroom
