#include "app/command_line.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <functional>
#include <new>
#include <sstream>

#include "app/commands.hpp"
#include "app/manual.hpp"
#include "app/measured_commands.hpp"
#include "app/thread_bound.hpp"
#include "base/error.hpp"
#include "base/processor.hpp"
#include "base/spelling.hpp"
#include "base/visible_text.hpp"

namespace boxroom {

namespace {

constexpr int other_failure = 1, wrong_input = 2;

struct Command {
    const char *name, *about;
    std::function<Answer(const Request&)> run;  ///< empty: `driver`, which has options of its own
    bool needs_file;
};

/// Some commands solve no room, or always in one way: they refuse the option in words of their own.
void add_solver(CLI::App& sub, Request& request, const std::string& name) {
    for (const char* none : {"new", "box", "modes", "build", "driver", "survey"})
        if (name == none) {
            sub.add_option("--solver", request.solver)
                ->group("")
                ->check([name](const std::string&) {
                    return name +
                           (name == "modes"    ? " finds modes in one way only"
                            : name == "survey" ? " solves rooms in one way only"
                                               : " does not solve the room") +
                           ": leave --solver out";
                });
            return;
        }
    std::vector<std::string> solvers{"modal", "grid"};
    std::string about =
        "modal (exact for rectangular rooms, elements along the walls for others) or "
        "grid (finite differences)";
    if (name == "listen" || name == "plan") {
        solvers.push_back("both");
        about += ", or both, compared";
    }
    sub.add_option("--solver", request.solver, about)->check(CLI::IsMember(solvers));
    sub.add_flag("--fresh", request.fresh, "solve the room anew, whatever is kept of it");
}

void add_driver_options(CLI::App& sub, DriverOptions& driver) {
    sub.add_option("--box", driver.box, "net volume of an empty closed box");
    sub.add_option("--boxed", driver.boxed, "the impedance in that box (CSV)");
    sub.add_option("--mass", driver.mass, "a mass laid on the cone");
    sub.add_option("--weighed", driver.weighed, "the impedance with that mass (CSV)");
    sub.add_option("--sd", driver.sd, "area of the cone, for Vas by the mass");
    sub.add_flag("--in-box", driver.in_box, "the curve is of the finished box: fc and Qtc");
    sub.add_option("--qtc", driver.qtc, "with --in-box: the Qtc wanted, 0.707 if not given");
}

void add_survey_options(CLI::App& sub, Request& request) {
    sub.add_option("--rooms", request.rooms, "how many rooms, instead of the file's")
        ->check(CLI::Range(1LL, 10'000'000LL));
    sub.add_option("--part", request.part, "only this part of the rooms, for example 3/40");
    sub.add_flag("--merge", request.merge, "put the parts in --out together");
    sub.add_option("--room", request.room, "write the room of this number as a room file for plan")
        ->check(CLI::Range(0LL, 10'000'000LL));
}

void add_window_options(CLI::App& sub, Request& request) {
    sub.add_option("--screenshot", request.screenshot, "draw to this PNG file instead");
    sub.add_option("--replay", request.replay, "play recorded mouse and key events");
    sub.add_option("--size", request.size, "of the window in pixels, for example 1920x1080");
    sub.add_option("--record", request.record, "record mouse and key events to this file");
}

void add_box_options(CLI::App& sub, Request& request) {
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
             {"--filling", &request.filling}})
        sub.add_option(option, *value);
    sub.add_option("--qtc", request.qtcs, "the Qtc of a box; several are compared");
    sub.add_option("--volume", request.volumes, "or its net volume; several are compared");
}

/// walls, explain, page: no room, and so none of what rooms have.
bool add_roomless_options(CLI::App& sub, Request& request, const std::string& name) {
    if (name != "walls" && name != "explain" && name != "page") return false;
    if (name == "explain") sub.add_option("topic", request.file, "what to explain");
    if (name == "page")
        sub.add_option("--out", request.out, "the file to write, boxroom.html if not given");
    sub.add_flag("--json", request.json, "one JSON document on standard output");
    return true;
}

/// The files that it reads, and what all that read one know.
void add_common_options(CLI::App& sub, Request& request, bool file_needed, const std::string& name,
                        std::string& units) {
    auto* file = sub.add_option("file", request.file,
                                name == "driver"   ? "the impedance in free air (CSV)"
                                : name == "survey" ? "how rooms are spread (TOML)"
                                                   : "the room file (TOML)");
    if (file_needed) file->required();
    if (name == "compare")
        sub.add_option("second", request.second, "the room file or results file to set beside it")
            ->required();
    sub.add_option("--out", request.out, "folder for the results");
    sub.add_flag("--json", request.json, "one JSON document on standard output");
    sub.add_flag("--quiet", request.quiet, "no progress, no notes");
    sub.add_option("--units", units, "metric or imperial")
        ->check(CLI::IsMember({"metric", "imperial"}));
    add_solver(sub, request, name);
    sub.add_option("--threads", request.threads, "how many threads, 0 = all")
        ->check(CLI::Range(0, 1024));
}

void add_options(CLI::App& sub, Request& request, bool file_needed, const std::string& name,
                 std::string& units) {
    if (add_roomless_options(sub, request, name)) return;
    add_common_options(sub, request, file_needed, name, units);
    if (name == "map") sub.add_option("--frequency", request.frequency, "for the level map");
    if (name == "rank" || name == "plan")
        sub.add_option("--subs", request.subs, "how many subs, 1 to 4, with their settings")
            ->check(CLI::Range(1, 4));
    if (name == "map" || name == "rank" || name == "plan" || name == "fit" || name == "survey")
        sub.add_option("--memory", request.memory,
                       "GB that may be needed, 2 if not given; more is refused before it starts")
            ->check(CLI::Range(0.1, 1e6));
    if (name == "survey") add_survey_options(sub, request);
    if (name == "new")
        sub.add_flag("--ask", request.ask, "ask for the room, seats and driver, a line each");
    if (name == "view") add_window_options(sub, request);
    if (name == "build") {
        sub.add_option("--volume", request.volume, "net volume, instead of the file's");
        sub.add_option("--qtc", request.qtc, "or the Qtc it shall have");
    }
    if (name == "box") add_box_options(sub, request);
}

const std::vector<Command>& commands() {
    static const std::vector<Command> all{
        {"new", "write a commented room file to start from", run_new, true},
        {"check", "read a room file and say what was understood", run_check, true},
        {"box", "the closed box by itself", run_box, false},
        {"modes", "the room's modes", run_modes, true},
        {"listen", "response at the seats for the placed subs", run_listen, true},
        {"map", "floor maps: spread by spot, level at ear height", run_map, true},
        {"rank", "the spots, ranked", run_rank, true},
        {"plan", "boxes x spots: the recommendation and the report", run_plan, true},
        {"view", "the room in a window: drag subs and seats", run_view, true},
        {"build", "the box to saw: volumes, cut list, drawings", run_build, true},
        {"driver", "a driver's parameters from its impedance curve", {}, true},
        {"sweep", "the signal to play and record at the seats", run_sweep, true},
        {"fit", "let recordings correct the room", run_fit, true},
        {"compare", "two answers or room files: what differs", run_compare, true},
        {"survey", "many rooms drawn and planned: what is true of rooms in general", run_survey,
         true},
        {"page", "the whole tool as one file for a browser", run_page, false},
        {"walls", "every wall that can be named, with source and doubt", run_walls, false},
        {"explain", "what stands behind the numbers", run_explain, false}};
    return all;
}

/// Says which command may have been meant; true if the first word is one or an option.
bool knows_command(int argc, char** argv) {
    if (argc < 2 || argv[1][0] == '-') return true;
    std::vector<std::string> names;
    for (const Command& command : commands()) names.push_back(command.name);
    if (std::find(names.begin(), names.end(), argv[1]) != names.end()) return true;
    const std::string near = nearest_word(argv[1], names);
    std::fprintf(
        stderr, "boxroom: there is no command '%s' -- %s\n", visible_text(argv[1]).c_str(),
        near.empty() ? "boxroom --help lists them" : ("did you mean '" + near + "'?").c_str());
    return false;
}

int run(const Command& command, const Request& request, const DriverOptions& driver,
        const Saying& say) {
    constexpr auto replace = nlohmann::ordered_json::error_handler_t::replace;
    try {
        const Answer answer = command.run ? command.run(request) : run_driver(request, driver);
        if (answer.text.empty() && answer.json.is_null()) return 0;  // another rank says it
        // JSON in ASCII alone, and bytes of a path that are no UTF-8 replaced: nothing of the input
        // is alive in a terminal.
        return say(request.json ? answer.json.dump(1, ' ', true, replace) + "\n"
                                : visible_text(answer.text, Lines::kept));
    } catch (const Error& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return wrong_input;
    } catch (const std::bad_alloc&) {
        std::fputs(
            "boxroom failed: there is not enough memory for this -- take fewer spots ([spots] "
            "step), seats or frequencies\n",
            stderr);
        return other_failure;
    } catch (const std::exception& error) {  // NumericalFailure, WriteFailure, no memory
        std::fprintf(stderr, "boxroom failed: %s\n", visible_text(error.what()).c_str());
        return other_failure;
    }
}

}  // namespace

int run_command_line(int argc, char** argv, const Saying& say) {
    CLI::App app{"boxroom: which closed box, standing where, for these seats in this room?"};
    app.set_version_flag("--version", std::string(BOXROOM_VERSION) +
                                          "\nvector instructions: " + vector_instructions());
    app.require_subcommand(1);
    Request request;
    DriverOptions driver;
    std::string units = "metric";
    const Command* chosen = nullptr;
    for (const Command& command : commands()) {
        CLI::App* sub = app.add_subcommand(command.name, command.about);
        add_options(*sub, request, command.needs_file, command.name, units);
        if (!command.run) add_driver_options(*sub, driver);
        sub->callback([&chosen, &command] { chosen = &command; });
    }
    // For the packager alone, and so in no list of options.
    if (argc == 2 && argv[1] == std::string_view("--manual-page"))
        return say(manual_page(app, BOXROOM_VERSION));
    if (argc == 2 && argv[1] == std::string_view("--bash-completion"))
        return say(bash_completion(app));
    if (!knows_command(argc, argv)) return wrong_input;
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        std::ostringstream help, fault;  // and the version
        if (app.exit(error, help, fault) == 0) return say(help.str());
        std::fputs(visible_text(fault.str(), Lines::kept).c_str(), stderr);
        return wrong_input;
    }
    request.command = chosen->name;
    request.units = units == "imperial" ? Units::imperial : Units::metric;
    use_threads(request.threads);
    return run(*chosen, request, driver, say);
}

}  // namespace boxroom
