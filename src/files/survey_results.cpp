// survey.h5: root attributes program, kind "survey", version, solver, input (the file of
// distributions), rooms (how many there are to be), part, parts. A dataset a column, double (R),
// with units and description; /house_names, /driver_names, /contents_names text.
#include "files/survey_results.hpp"

#include <cmath>

#include "base/error.hpp"
#include "files/hdf5_pieces.hpp"
#include "files/hdf5_seal.hpp"
#include "files/manifest.hpp"
#include "files/results_head.hpp"

namespace boxroom {
namespace {

constexpr const char* run_again = "remove it and run that survey or part again";

std::vector<std::string> wanted_names(const SurveyTable& like) {
    std::vector<std::string> names;
    for (const SurveyColumn& column : like.columns) names.push_back('/' + column.name);
    for (const char* name : {"/@kind", "/@version", "/@input", "/@rooms", "/@part", "/@parts"})
        names.emplace_back(name);
    return names;
}

/// What was taken out of a file, each piece believed only as far as it was looked at.
class Taken {
  public:
    Taken(Hdf5Pieces pieces, std::string where)
        : pieces_(std::move(pieces)), where_(std::move(where)) {}

    [[noreturn]] void refuse(const std::string& what, const std::string& mend = run_again) const {
        throw Error(where_, what, mend);
    }
    const Hdf5Piece& piece(const std::string& name, Hdf5Piece::Kind kind) const {
        const auto found = pieces_.find(name);
        if (found == pieces_.end() || found->second.kind != kind)
            refuse("this is no table of a survey: it has no " + name);
        return found->second;
    }
    std::string text(const std::string& name) const {
        const Hdf5Piece& one = piece(name, Hdf5Piece::Kind::text);
        if (one.texts.size() != 1) refuse("this is no table of a survey: " + name + " is no text");
        return one.texts.front();
    }
    long long whole(const std::string& name, double most) const {
        const Hdf5Piece& one = piece(name, Hdf5Piece::Kind::number);
        const double value = one.numbers.size() == 1 ? one.numbers.front() : -1;
        if (!(value >= 1 && value <= most && value == std::floor(value)))
            refuse("this is no table of a survey: " + name + " is no such number");
        return static_cast<long long>(value);
    }
    std::vector<double> column(const std::string& name, std::size_t rows) const {
        const Hdf5Piece& one = piece(name, Hdf5Piece::Kind::number);
        if (one.shape.size() != 1 || (rows > 0 && one.numbers.size() != rows))
            refuse("the columns of this table are of different lengths");
        return one.numbers;
    }

  private:
    Hdf5Pieces pieces_;
    std::string where_;
};

void require_rows_in_part(const Taken& taken, const SurveyTable& table) {
    double before = -1;
    for (const double number : table.columns.front().value) {
        const bool good = number > before && number == std::floor(number) &&
                          number < static_cast<double>(table.rooms) &&
                          in_part(static_cast<long long>(number), table.part, table.parts);
        if (!good) taken.refuse("its rooms are not those of its part");
        before = number;
    }
}

}  // namespace

std::string survey_hdf5(const SurveyTable& table) {
    Hdf5Writer file;
    write_provenance(file, "survey", {table.version, "modal", table.input_text});
    file.attribute("/", "rooms", static_cast<double>(table.rooms));
    file.attribute("/", "part", table.part);
    file.attribute("/", "parts", table.parts);
    for (const SurveyColumn& column : table.columns)
        file.numbers('/' + column.name, column.value, {column.value.size()},
                     {column.units.c_str(), column.description});
    file.texts("/house_names", table.houses, {"1", "what the column house counts, from 0"});
    file.texts("/driver_names", table.drivers, {"1", "what the column driver counts, from 0"});
    file.texts("/contents_names", table.contents, {"1", "what the column contents counts, from 0"});
    return file.take();
}

SurveyTable read_survey(const std::filesystem::path& path, const SurveyTable& like) {
    require_as_listed(path);
    const Taken taken(hdf5_pieces(sealed_bytes(path), wanted_names(like), path.string()),
                      path.string());
    if (taken.text("/@kind") != "survey") taken.refuse("this is no table of a survey");
    if (taken.text("/@input") != like.input_text)
        taken.refuse("this table was made from another file of distributions",
                     "give the file it was made from, or another --out");
    if (taken.text("/@version") != like.version)
        taken.refuse("this table was made by version " + taken.text("/@version"),
                     "finish it with that version, or give another --out");
    SurveyTable table = like;
    constexpr double most = 1e7;
    table.rooms = taken.whole("/@rooms", most);
    table.part = static_cast<int>(taken.whole("/@part", most));
    table.parts = static_cast<int>(taken.whole("/@parts", most));
    if (table.part > table.parts) taken.refuse("this is no table of a survey: its part is none");
    for (SurveyColumn& column : table.columns)
        column.value = taken.column('/' + column.name, table.rows());
    require_rows_in_part(taken, table);
    return table;
}

}  // namespace boxroom
