// boxroom: which closed box, standing where, for these seats in this room?
#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <functional>

#include "app/commands.hpp"
#include "app/thread_bound.hpp"
#include "base/error.hpp"
#include "base/spelling.hpp"

using namespace boxroom;

namespace {

constexpr int done = 0, other_failure = 1, wrong_input = 2;

struct Command {
    const char *name, *about;
    std::function<Answer(const Request&)> run;
    bool needs_file;
};

void add_options(CLI::App& sub, Request& request, bool file_needed, const std::string& name,
                 std::string& units) {
    auto* file = sub.add_option("file", request.file, "the room file (TOML)");
    if (file_needed) file->required();
    sub.add_option("--out", request.out, "folder for the results");
    sub.add_flag("--json", request.json, "one JSON document on standard output");
    sub.add_flag("--quiet", request.quiet, "no progress, no notes");
    sub.add_option("--units", units, "metric or imperial")
        ->check(CLI::IsMember({"metric", "imperial"}));
    std::vector<std::string> solvers{"modal", "grid"};
    std::string about = "modal (exact for rectangular rooms) or grid (finite differences)";
    if (name == "listen" || name == "plan") {
        solvers.push_back("both");
        about += ", or both, compared";
    }
    sub.add_option("--solver", request.solver, about)->check(CLI::IsMember(solvers));
    sub.add_option("--threads", request.threads, "how many threads, 0 = all")
        ->check(CLI::Range(0, 1024));
    if (name == "map") sub.add_option("--frequency", request.frequency, "for the level map");
    if (name == "rank" || name == "plan")
        sub.add_option("--subs", request.subs, "how many subs, 1 to 4, with their settings")
            ->check(CLI::Range(1, 4));
    if (name == "new")
        sub.add_flag("--ask", request.ask, "ask for the room, seats and driver, a line each");
    if (name == "view") {
        sub.add_option("--screenshot", request.screenshot, "draw to this PNG file instead");
        sub.add_option("--replay", request.replay, "play recorded mouse and key events");
        sub.add_option("--size", request.size, "of the window in pixels, for example 1920x1080");
        sub.add_option("--record", request.record, "record mouse and key events to this file");
    }
    if (name == "build") {
        sub.add_option("--volume", request.volume, "net volume, instead of the file's");
        sub.add_option("--qtc", request.qtc, "or the Qtc it shall have");
    }
    if (name != "box") return;
    for (auto [option, value] :
         std::initializer_list<std::pair<const char*, std::optional<std::string>*>>{
             {"--fs", &request.fs},
             {"--qts", &request.qts},
             {"--vas", &request.vas},
             {"--qes", &request.qes},
             {"--qms", &request.qms},
             {"--re", &request.re},
             {"--le", &request.le},
             {"--sd", &request.sd},
             {"--bl", &request.bl},
             {"--mms", &request.mms},
             {"--qtc", &request.qtc},
             {"--volume", &request.volume},
             {"--filling", &request.filling}})
        sub.add_option(option, *value);
}

}  // namespace

int main(int argc, char** argv) {
    const Command commands[] = {
        {"new", "write a commented room file to start from", run_new, true},
        {"check", "read a room file and say what was understood", run_check, true},
        {"box", "the closed box by itself", run_box, false},
        {"modes", "the room's modes", run_modes, true},
        {"listen", "response at the seats for the placed subs", run_listen, true},
        {"map", "floor maps: spread by spot, level at ear height", run_map, true},
        {"rank", "the spots, ranked", run_rank, true},
        {"plan", "boxes x spots: the recommendation and the report", run_plan, true},
        {"view", "the room in a window: drag subs and seats", run_view, true},
        {"build", "the box to saw: volumes, cut list, drawings", run_build, true}};

    CLI::App app{"boxroom: which closed box, standing where, for these seats in this room?"};
    app.set_version_flag("--version", BOXROOM_VERSION);
    app.require_subcommand(1);
    Request request;
    std::string units = "metric";
    const Command* chosen = nullptr;
    for (const Command& command : commands) {
        CLI::App* sub = app.add_subcommand(command.name, command.about);
        add_options(*sub, request, command.needs_file, command.name, units);
        sub->callback([&chosen, &command] { chosen = &command; });
    }
    if (argc > 1 && argv[1][0] != '-') {
        std::vector<std::string> names;
        for (const Command& command : commands) names.push_back(command.name);
        if (std::find(names.begin(), names.end(), argv[1]) == names.end()) {
            const std::string near = nearest_word(argv[1], names);
            std::fprintf(stderr, "boxroom: there is no command '%s' -- %s\n", argv[1],
                         near.empty() ? "boxroom --help lists them"
                                      : ("did you mean '" + near + "'?").c_str());
            return wrong_input;
        }
    }
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        return app.exit(error) == 0 ? done : wrong_input;
    }
    request.units = units == "imperial" ? Units::imperial : Units::metric;
    bound_threads(request.threads, argv);

    try {
        const Answer answer = chosen->run(request);
        std::string text = answer.text;
        if (request.json) text = answer.json.dump(1) + "\n";
        return std::fwrite(text.data(), 1, text.size(), stdout) == text.size() ? done
                                                                               : other_failure;
    } catch (const Error& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return wrong_input;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "boxroom failed: %s\n", error.what());
        return other_failure;
    }
}
