#include "app/manual.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>

namespace boxroom {
namespace {

/// As groff reads it: a backslash doubled, a hyphen that may be copied as a minus sign, and no line
/// that begins with a control character.
std::string roff(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else
            out += c;
    }
    if (!out.empty() && (out[0] == '.' || out[0] == '\'')) out.insert(0, "\\&");
    return out;
}

/// What of a command is shown: options with a name, and positionals.
std::vector<const CLI::Option*> shown_options(const CLI::App& command) {
    return command.get_options(
        [](const CLI::Option* option) { return !option->get_group().empty(); });
}

std::string heading(const CLI::App& command) {
    std::string line = "boxroom " + command.get_name();
    for (const CLI::Option* option : shown_options(command))
        if (option->get_positional() && !option->nonpositional())
            line += option->get_required() ? " " + option->get_name(true)
                                           : " [" + option->get_name(true) + "]";
    return line + " [options]";
}

}  // namespace

std::string manual_page(const CLI::App& app, const std::string& version) {
    std::string out = fmt::format(
        ".TH BOXROOM 1 \"\" \"boxroom {}\" \"User Commands\"\n.SH NAME\nboxroom \\- {}\n.SH "
        "SYNOPSIS\n"
        ".B boxroom\n.I command\n.RI [ options ]\n.SH COMMANDS\n",
        roff(version), roff("which closed box, standing where, for these seats in this room"));
    for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
        out +=
            fmt::format(".SS {}\n{}.\n", roff(heading(*command)), roff(command->get_description()));
        for (const CLI::Option* option : shown_options(*command)) {
            if (option->get_name() == "--help,-h" || option->check_name("--help")) continue;
            out += fmt::format(".TP\n.B {}\n{}\n", roff(option->get_name(option->get_positional())),
                               roff(option->get_description()));
        }
    }
    return out +
           ".SH EXIT STATUS\n0 done, 2 the command line or a file is wrong, 1 anything else.\n"
           ".SH FILES\nRooms to start from lie in /usr/share/boxroom/rooms.\n";
}

std::string bash_completion(const CLI::App& app) {
    std::string names, cases;
    for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
        names += (names.empty() ? "" : " ") + command->get_name();
        std::string options;
        for (const CLI::Option* option : shown_options(*command))
            for (const std::string& name : option->get_lnames()) options += " --" + name;
        cases +=
            fmt::format("        {}) options=\"{}\" ;;\n", command->get_name(), options.substr(1));
    }
    return fmt::format(
        "# Completion of boxroom's commands and options for bash.\n_boxroom() {{\n"
        "    local word=${{COMP_WORDS[COMP_CWORD]}} options=\n    COMPREPLY=()\n"
        "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
        "        mapfile -t COMPREPLY < <(compgen -W \"{} --help --version\" -- \"$word\")\n"
        "        return\n    fi\n    case \"${{COMP_WORDS[1]}}\" in\n{}    esac\n"
        "    if [[ $word == -* ]]; then\n"
        "        mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$word\")\n"
        "    fi\n}}\ncomplete -o default -F _boxroom boxroom\n",
        names, cases);
}

}  // namespace boxroom
