// survey: many rooms drawn and planned, whole, in parts, or put together from these.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <filesystem>

#include "app/ranks.hpp"
#include "app/session.hpp"
#include "base/error.hpp"
#include "base/thread_count.hpp"
#include "files/survey_results.hpp"
#include "report/survey_page.hpp"
#include "survey/findings.hpp"
#include "survey/room_text.hpp"
#include "survey/survey_file.hpp"
#include "survey/survey_run.hpp"

namespace boxroom {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;
constexpr const char *table_name = "survey.h5", *page_name = "survey.html",
                     *picture_name = "survey.svg";

constexpr int most_parts = 100'000;

/// Which part of how many.
struct Part {
    int number = 1, of = 1;
    bool given = false;
};

Part read_part(const Request& request) {
    if (!request.part) return {};
    Part part;
    const std::string& text = *request.part;
    const char *at = text.data(), *const end = at + text.size();
    const auto first = std::from_chars(at, end, part.number);
    const bool slash = first.ec == std::errc() && first.ptr != end && *first.ptr == '/';
    const auto second = slash ? std::from_chars(first.ptr + 1, end, part.of) : first;
    if (!slash || second.ec != std::errc() || second.ptr != end)
        throw Error("--part", '"' + text + "\" is no part", "write for example --part 3/40");
    if (part.of < 1 || part.of > most_parts || part.number < 1 || part.number > part.of)
        throw Error("--part", '"' + text + "\" is no part of a whole",
                    "count from 1 to the number of parts, of which there may be 100 000");
    part.given = true;
    return part;
}

std::string part_folder(const Part& part) {
    return fmt::format("part-{}-of-{}", part.number, part.of);
}

/// A survey, its file, and the folder its results go to.
struct Work {
    explicit Work(const Request& r)
        : request(r), inputs(input_files(r)), survey(read_survey_file(r.file)), part(read_part(r)) {
        if (r.rooms > 0) survey.rooms = r.rooms;
        // A room on each thread; what is always there takes more than half of the least.
        survey.room_memory = std::max(1e9 * r.memory / thread_count(), 100e6);
        if (part.of > survey.rooms)
            throw Error("--part", "there are more parts than rooms", "take fewer parts");
        folder = results_path(r);
        if (part.given) folder /= part_folder(part);
        like = empty_table(survey);
        like.version = BOXROOM_VERSION;
        like.part = part.number, like.parts = part.of;
    }
    Work(const Work&) = delete;
    Work& operator=(const Work&) = delete;

    const Request& request;
    InputFiles inputs;
    Survey survey;
    Part part;
    fs::path folder;
    SurveyTable like;  ///< without rows
};

/// The rows of another table that belong to this one's rooms.
SurveyTable with_rooms_of(const SurveyTable& from, const SurveyTable& like) {
    SurveyTable table = like;
    for (std::size_t n = 0; n < from.rows(); ++n) {
        if (from.columns.front().value[n] >= static_cast<double>(like.rooms)) break;
        for (std::size_t c = 0; c < table.columns.size(); ++c)
            table.columns[c].value.push_back(from.columns[c].value[n]);
    }
    return table;
}

/// What an earlier run got done, or nothing yet.
SurveyTable begun(const Work& work) {
    const fs::path file = work.folder / table_name;
    std::error_code none;
    if (!fs::exists(file, none)) return work.like;
    const SurveyTable there = read_survey(file, work.like);
    if (there.part != work.like.part || there.parts != work.like.parts)
        throw Error(file.string(), "this is another part of a survey", "give another --out");
    return with_rooms_of(there, work.like);
}

/// Puts the table, the page and its picture in place, together.
void save(const Work& work, const SurveyTable& table) {
    ResultsFolder folder(work.folder, "survey", work.inputs);
    folder.write(table_name, survey_hdf5(table));
    const SurveyFindings findings = findings_of(table);
    folder.write(page_name,
                 survey_page(findings, {work.survey.title, findings_words(findings), table.version,
                                        table.input_text, further_words(findings), work.survey.seed,
                                        table.rooms}));
    if (const std::string picture = survey_picture(findings); !picture.empty())
        folder.write(picture_name, picture);
    folder.commit();
}

Json quantiles_json(const Quantiles& q) {
    return {{"low", q.low}, {"middle", q.middle}, {"high", q.high}, {"rooms", q.rooms}};
}

Json share_json(const Share& s) {
    return {{"share", s.share}, {"low", s.low}, {"high", s.high}, {"rooms", s.rooms}};
}

Json findings_json(const SurveyFindings& f) {
    Json json{{"build_qtc", quantiles_json(f.all.build_qtc)},
              {"half_space_build_qtc", quantiles_json(f.all.half_space_build_qtc)},
              {"smaller_in_room", share_json(f.smaller_in_room)},
              {"best_qtc", quantiles_json(f.all.best_qtc)},
              {"half_space_qtc", quantiles_json(f.all.half_space_qtc)},
              {"textbook_within_half_db", share_json(f.all.textbook_good)},
              {"textbook_loss_db", quantiles_json(f.textbook_loss)},
              {"size_does_not_matter_equalised", share_json(f.size_does_not_matter)},
              {"corner_wins", share_json(f.corner_wins)},
              {"subs", Json::array()}};
    for (const SubsFindings& subs : f.subs)
        if (subs.spread.rooms > 0)
            json["subs"].push_back({{"subs", subs.subs},
                                    {"spread_db", quantiles_json(subs.spread)},
                                    {"gain_db", quantiles_json(subs.gain)},
                                    {"in_corners", share_json(subs.in_corners)},
                                    {"at_middles", share_json(subs.at_middles)}});
    return json;
}

Answer answer_of(const Work& work, const SurveyTable& table) {
    Answer answer;
    const SurveyFindings findings = findings_of(table);
    answer.text = findings_words(findings) + "\n";
    for (const std::string& sentence : further_words(findings)) answer.text += sentence + "\n";
    answer.text += fmt::format("The table: {}\nThe page: {}\n", (work.folder / table_name).string(),
                               (work.folder / page_name).string());
    answer.json = {{"rooms", table.rows()},
                   {"seed", work.survey.seed},
                   {"findings", findings_json(findings)},
                   {"page", (work.folder / page_name).string()},
                   {"table", (work.folder / table_name).string()},
                   {"timing_s", Json::object()},
                   {"warnings", Json::array()}};
    return answer;
}

Answer run_rooms(Work& work, RoomHelpers* helpers) {
    ResultsFolder(work.folder, "survey", work.inputs).expect({table_name, page_name, picture_name});
    SurveyTable table = begun(work);
    const double start = seconds_now();
    const auto before = static_cast<double>(table.rows());
    SurveyEars ears;
    ears.save = [&](const SurveyTable& so_far) { save(work, so_far); };
    ears.tell = [&](long long done, long long all) {
        const double each = (seconds_now() - start) / (static_cast<double>(done) - before);
        say_progress(work.request,
                     fmt::format("{} of {} rooms, {:.0f} s left", done, all,
                                 each * static_cast<double>(all - done)),
                     static_cast<double>(done) / static_cast<double>(all));
    };
    say_progress(work.request, fmt::format("{} of {} rooms", table.rows(), work.survey.rooms), 0);
    if (missing_rooms(table).empty()) save(work, table);  // all done: the page anew
    fill_in(work.survey, table, ears, helpers);
    say_progress(work.request, "", 1);
    Answer answer = answer_of(work, table);
    answer.json["timing_s"]["rooms"] = seconds_now() - start;
    return answer;
}

/// Of how many parts those are that lie in the folder. Throws Error where there are none, or parts
/// of different wholes.
int parts_in(const fs::path& folder) {
    int parts = 0;
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none)) {
        const std::string name = entry.path().filename().string();
        int number = 0, of = 0, end = 0;
        if (std::sscanf(name.c_str(), "part-%d-of-%d%n", &number, &of, &end) != 2 ||
            end != static_cast<int>(name.size()))
            continue;
        if (parts > 0 && of != parts)
            throw Error(folder.string(),
                        fmt::format("there are parts of {} and parts of {}", parts, of),
                        "take away those that do not belong to this survey");
        parts = of;
    }
    if (parts > 0 && parts <= most_parts) return parts;
    throw Error(folder.string(), "there are no parts of a survey here",
                "make them with --part 1/2, --part 2/2, and the same --out");
}

/// One part, whole, and the one that its folder says.
SurveyTable whole_part(const Work& work, const Part& part) {
    const fs::path file = work.folder / part_folder(part) / table_name;
    std::error_code none;
    const auto missing = [&](const std::string& what) {
        throw Error(
            file.string(), what,
            fmt::format("run it with --part {}/{} and the same --out", part.number, part.of));
    };
    if (!fs::exists(file, none)) missing("this part is missing");
    SurveyTable table = read_survey(file, work.like);
    if (table.part != part.number || table.parts != part.of)
        throw Error(file.string(),
                    fmt::format("this is part {} of {}: its rooms are there already, or belong "
                                "elsewhere",
                                table.part, table.parts),
                    "put every part back into the folder that --part made for it");
    if (static_cast<long long>(table.rows()) < rooms_of_part(table.rooms, part.number, part.of))
        missing("this part is not finished");
    return table;
}

Answer merge_parts(Work& work) {
    if (work.part.given) throw Error("--merge", "it puts all parts together", "leave --part out");
    const double start = seconds_now();
    const int parts = parts_in(work.folder);
    SurveyTable all = work.like;
    std::vector<SurveyRow> rows;
    for (int number = 1; number <= parts; ++number) {
        const SurveyTable part = whole_part(work, {number, parts, true});
        if (number == 1) all.rooms = part.rooms;
        if (part.rooms != all.rooms)
            throw Error(
                (work.folder / part_folder({number, parts, true})).string(),
                fmt::format("this part is of {} rooms, the first of {}", part.rooms, all.rooms),
                "run it again with the same --rooms");
        for (std::size_t n = 0; n < part.rows(); ++n) {
            SurveyRow row;
            for (const SurveyColumn& column : part.columns) row.push_back(column.value[n]);
            rows.push_back(std::move(row));
        }
    }
    add_rows(all, rows);
    save(work, all);
    Answer answer = answer_of(work, all);
    answer.json["parts"] = parts;
    answer.json["timing_s"]["merge"] = seconds_now() - start;
    return answer;
}

Answer write_room(const Work& work) {
    const long long number = *work.request.room;
    if (number >= work.survey.rooms)
        throw Error("--room", fmt::format("the survey has no room {}", number),
                    fmt::format("its rooms are 0 to {}", work.survey.rooms - 1));
    const std::string name = fmt::format("room_{}.toml", number);
    ResultsFolder folder(work.folder, "survey", work.inputs);
    folder.write(name, room_text(work.survey, draw_room(work.survey, number)), name);
    folder.commit();
    const std::string path = (work.folder / name).string();
    return {fmt::format("Wrote {}. Plan it: boxroom plan {}\n", path, path),
            {{"file", path}, {"timing_s", Json::object()}, {"warnings", Json::array()}}};
}

}  // namespace

Answer run_survey(const Request& request) {
    Work work(request);
    if (request.merge) return merge_parts(work);
    if (request.room) return write_room(work);
    const auto ranks = Ranks::joined();
    if (!ranks) return run_rooms(work, nullptr);
    if (ranks->first()) try {
            return run_rooms(work, ranks.get());
        } catch (const std::exception& error) {
            Ranks::fail(error);
            throw;
        }
    ranks->help(work.survey);
    return {};
}

}  // namespace boxroom
