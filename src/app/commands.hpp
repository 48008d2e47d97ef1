#pragma once
#include <optional>
#include <string>
#include <vector>

#include "answers/inquiry.hpp"

namespace boxroom {

/// What every command is told.
struct Request : Wishes {
    std::string command, file, out;
    std::string second;  ///< `compare`: the other file
    bool json = false, quiet = false;
    bool fresh = false;  ///< rooms that were solved and kept are solved anew
    int threads = 0;
    // `box` without a file:
    std::optional<std::string> fs, qts, vas, qes, qms, re, le, sd, bl, mms, filling;
    std::vector<std::string> qtcs, volumes;  ///< `box`: any number of each
    bool ask = false;  ///< `new`
    // `survey`:
    long long rooms = 0;              ///< how many; 0: as the file says
    std::optional<std::string> part;  ///< "3/40"
    bool merge = false;
    std::optional<long long> room;  ///< to be written as a room file
    // `map`:
    std::optional<std::string> frequency;
    // `view`:
    std::optional<std::string> screenshot, replay, record;
    std::optional<std::string> size;  ///< view: of the window, "1920x1080"
};

Answer run_new(const Request&);
Answer run_check(const Request&);
Answer run_box(const Request&);
Answer run_modes(const Request&);
Answer run_listen(const Request&);
Answer run_map(const Request&);
Answer run_rank(const Request&);
Answer run_plan(const Request&);
Answer run_view(const Request&);
Answer run_build(const Request&);
Answer run_compare(const Request&);
Answer run_page(const Request&);
Answer run_walls(const Request&);
Answer run_explain(const Request&);
Answer run_survey(const Request&);

/// The room file that a dialogue on the terminal leads to, and whether it is in feet.
std::string ask_for_room_file(const Request&, bool& imperial);

}  // namespace boxroom
