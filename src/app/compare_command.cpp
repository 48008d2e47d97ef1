// compare: two saved answers, or two room files, beside each other.
#include <fmt/format.h>

#include <filesystem>

#include "answers/criteria_output.hpp"
#include "answers/room_days.hpp"
#include "app/session.hpp"
#include "base/number.hpp"
#include "files/csv.hpp"
#include "files/results_file.hpp"
#include "placement/comparison.hpp"
#include "placement/listening.hpp"
#include "report/compare_page.hpp"
#include "results/criterion.hpp"
#include "room_file/room_file.hpp"

namespace boxroom {
namespace {

struct Side {
    std::string name;
    Scenario scenario;
    Listening heard;
};

/// A saved answer as it stands, or what the placed subs of a room file give.
Side read_side(const Request& request, const std::string& path,
               std::vector<std::string>& warnings) {
    Side side;
    side.name = path;
    if (std::filesystem::path(path).extension() == ".h5") {
        side.heard = read_listening(path);
        side.scenario = parse_room_file(read_input_text(path), path);
        return side;
    }
    Request alone = request;
    alone.file = path;
    Session session(alone);
    const ClosedBox box = chosen_box(session.scenario, session.driver, session.warnings);
    take_worse_day(session, box);
    session.say("solving the room", 0.1);
    side.heard = listen(session.scenario, session.driver, box, session.scenario.placed.subs);
    for (const std::string& warning : session.warnings) warnings.push_back(path + ": " + warning);
    side.scenario = session.scenario;
    return side;
}

std::string table(const Comparison& c) {
    std::string text = fmt::format("{:14}  {:>8}  {:>8}  {:>8}\n", "", "first", "second", "change");
    for (const Criterion& row : criterion_table) {
        if (!on_pages(row, false)) continue;
        const double a = c.first.criteria.*row.member, b = c.second.criteria.*row.member;
        text += fmt::format("{:14}  {:8.{}f}  {:8.{}f}  {:>8}\n",
                            fmt::format("{}, {}", row.label, row.unit), a, row.decimals, b,
                            row.decimals, change(a, b, row.decimals));
    }
    return text;
}

std::string differences_text(const std::vector<FileDifference>& files) {
    if (files.empty()) return "The two room files say the same.\n";
    std::string text = "In the files:\n";
    for (const FileDifference& row : files)
        text += fmt::format("  {}: {} -> {}\n", row.key, row.first.empty() ? "-" : row.first,
                            row.second.empty() ? "-" : row.second);
    return text;
}

std::string comparison_csv(const Comparison& c) {
    Csv csv;
    for (const char* name : {"frequency_hz", "first_db", "second_db", "difference_db"})
        csv.field(name);
    csv.end_row();
    for (std::size_t i = 0; i < c.frequency.size(); ++i) {
        for (const double value :
             {c.frequency[i], c.first.average_db[i], c.second.average_db[i], c.difference_db[i]})
            csv.number(value);
        csv.end_row();
    }
    return csv.take();
}

nlohmann::ordered_json comparison_json(const Comparison& c,
                                       const std::vector<FileDifference>& files) {
    nlohmann::ordered_json json;
    json["in_words"] = comparison_words(c);
    json["frequency_hz"] = c.frequency;
    for (const auto& [name, side] : {std::pair{"first", &c.first}, {"second", &c.second}}) {
        json[name] = {{"file", side->name}, {"seat_average_db", side->average_db}};
        json[name].update(criteria_json(side->criteria));
    }
    json["difference_db"] = c.difference_db;
    json["rms_db"] = c.rms_db;
    json["largest_db"] = c.largest_db;
    json["largest_at_hz"] = c.largest_at_hz;
    json["in_files"] = nlohmann::ordered_json::array();
    for (const FileDifference& row : files)
        json["in_files"].push_back(
            {{"key", row.key}, {"first", row.first}, {"second", row.second}});
    return json;
}

}  // namespace

Answer run_compare(const Request& request) {
    std::vector<std::string> warnings;
    const Side first = read_side(request, request.file, warnings);
    const Side second = read_side(request, request.second, warnings);
    const Comparison comparison = compare(first.name, first.heard, second.name, second.heard,
                                          first.scenario.judgement.target.band);
    const auto files = file_differences(first.scenario.source_text, second.scenario.source_text);
    Answer answer;
    answer.json = comparison_json(comparison, files);
    answer.text = comparison_words(comparison) + "\n" + table(comparison) + differences_text(files);
    if (!request.out.empty()) {
        const InputFiles inputs = input_files(request);
        ResultsFolder results(request.out, request.command, inputs);
        results.write("compare.html", compare_page(comparison, files, BOXROOM_VERSION));
        results.write("compare.csv", comparison_csv(comparison));
        results.commit();
        answer.text += "Page: " + (results.path() / "compare.html").string() + "\n";
    }
    answer.json["timing_s"] = nlohmann::ordered_json::object();
    answer.json["warnings"] = warnings;
    if (!request.quiet)
        for (const std::string& w : warnings) say_note(w);
    return answer;
}

}  // namespace boxroom
