#include "files/results_reader.hpp"

#include <cmath>
#include <complex>
#include <filesystem>
#include <utility>

#include "base/error.hpp"
#include "files/columns.hpp"
#include "files/hdf5_seal.hpp"
#include "files/manifest.hpp"
#include "files/results_file.hpp"
#include "results/criterion.hpp"

namespace boxroom {

namespace {

namespace fs = std::filesystem;
using Shape = std::vector<std::size_t>;

constexpr const char* listen_again = "run `listen` again to write it anew";

/// What was taken out of one file, whose sizes the caller knows; every surprise is an Error.
class Reader {
  public:
    Reader(const Hdf5Pieces& pieces, std::string where)
        : pieces_(pieces), where_(std::move(where)) {}

    [[noreturn]] void fail(const std::string& what, const std::string& mend) const {
        throw Error(where_, what, mend);
    }

    bool has(const std::string& name) const { return pieces_.contains(name); }

    /// A text attribute of the root, empty if there is none.
    std::string text_attribute(const std::string& name) const {
        const auto found = pieces_.find("/@" + name);
        if (found == pieces_.end() || found->second.texts.size() != 1) return {};
        return found->second.texts.front();
    }

    int integer_attribute(const std::string& name) const {
        const std::vector<double> value = numbers(name, {});
        if (!(std::abs(value.at(0)) < 1e9)) fail(name + " is out of bounds", listen_again);
        return static_cast<int>(value.at(0));
    }

    /// The length of a one-dimensional dataset.
    std::size_t length(const std::string& name) const {
        const Hdf5Piece& data = piece(name);
        if (data.shape.size() != 1) fail(name + " is not a list", listen_again);
        return data.shape[0];
    }

    std::vector<double> numbers(const std::string& name, const Shape& shape) const {
        const auto& out = checked(name, shape, Hdf5Piece::Kind::number, "numbers").numbers;
        require_finite(name, out);
        return out;
    }

    /// Of the criteria some cannot be worked out for every room.
    double number_or_unknown(const std::string& name) const {
        return checked(name, {}, Hdf5Piece::Kind::number, "numbers").numbers.at(0);
    }

    std::vector<std::complex<double>> complexes(const std::string& name, const Shape& shape) const {
        const auto& pairs =
            checked(name, shape, Hdf5Piece::Kind::complex, "complex numbers").numbers;
        require_finite(name, pairs);
        std::vector<std::complex<double>> out(pairs.size() / 2);
        for (std::size_t n = 0; n < out.size(); ++n) out[n] = {pairs[2 * n], pairs[2 * n + 1]};
        return out;
    }

    std::vector<std::string> texts(const std::string& name, std::size_t size) const {
        return checked(name, {size}, Hdf5Piece::Kind::text, "text").texts;
    }

  private:
    void require_finite(const std::string& name, const std::vector<double>& values) const {
        for (const double value : values)
            if (!std::isfinite(value)) fail(name + " holds what is no number", listen_again);
    }

    const Hdf5Piece& piece(const std::string& name) const {
        const auto found = pieces_.find(name);
        if (found == pieces_.end()) fail(name + " is missing", listen_again);
        return found->second;
    }

    const Hdf5Piece& checked(const std::string& name, const Shape& shape, Hdf5Piece::Kind kind,
                             const char* words) const {
        const Hdf5Piece& data = piece(name);
        if (data.kind != kind) fail(name + " does not hold " + words, listen_again);
        if (data.shape != shape) fail(name + " has another shape than the rest", listen_again);
        return data;
    }

    const Hdf5Pieces& pieces_;
    std::string where_;
};

Hdf5Pieces taken_out(const fs::path& path, const std::vector<std::string>& names) {
    std::error_code none;
    if (!fs::exists(path, none))
        throw Error(path.string(), "there is no such file",
                    "run `listen` first, or check the path");
    if (!fs::is_regular_file(path, none))
        throw Error(path.string(), "this is not a file", "name the file listen.h5");
    require_as_listed(path);
    return hdf5_pieces(sealed_bytes(path), names, path.string());
}

}  // namespace

std::vector<std::string> listening_names() {
    std::vector<std::string> names{"/@program", "/@kind", "/@absolute", "/at_build@absolute"};
    for (const std::string root : {"", "/at_build"}) {
        for (const char* name :
             {"/frequency", "/seats/position", "/seats/name", "/seats/weight", "/subs/position",
              "/subs/name", "/subs/gain", "/subs/delay", "/subs/polarity", "/transfer_impedance",
              "/volume_velocity", "/level", "/phase", "/limited_by", "/cone_load"})
            names.push_back(root + name);
        for (const auto& c : curve_columns) names.push_back(root + "/" + c.dataset);
        for (const Criterion& c : criterion_table) names.push_back(root + "/criteria/" + c.name);
    }
    return names;
}

std::string read_input_text(const fs::path& path) {
    const Hdf5Pieces pieces = taken_out(path, {"/@program", "/@input"});
    const Reader file(pieces, path.string());
    const std::string text = file.text_attribute("input");
    if (file.text_attribute("program") != "boxroom" || text.empty())
        file.fail("this HDF5 file was not written by boxroom, or holds no room file",
                  "name a listen.h5, rank.h5 or plan.h5");
    return text;
}

Listening read_listening(const fs::path& path) {
    return listening_of(taken_out(path, listening_names()), path.string());
}

Listening listening_of(const Hdf5Pieces& pieces, const std::string& where) {
    const Reader file(pieces, where);
    const std::string kind = file.text_attribute("kind");
    if (file.text_attribute("program") != "boxroom" || (kind != "listening" && kind != "plan"))
        file.fail("this HDF5 file was not written by `listen` or `plan`",
                  "name a listen.h5 or plan.h5");
    const std::string root = kind == "plan" ? "/at_build" : "";

    Listening heard;
    heard.absolute = file.integer_attribute((root.empty() ? "/" : root) + "@absolute") != 0;
    const std::size_t f = file.length(root + "/frequency"), s = file.length(root + "/seats/name"),
                      q = file.length(root + "/subs/name");
    heard.frequency = file.numbers(root + "/frequency", {f});

    const auto seat_at = file.numbers(root + "/seats/position", {s, 3});
    const auto seat_name = file.texts(root + "/seats/name", s);
    const auto weight = file.numbers(root + "/seats/weight", {s});
    for (std::size_t i = 0; i < s; ++i)
        heard.seats.push_back(
            {seat_name[i], {seat_at[3 * i], seat_at[3 * i + 1], seat_at[3 * i + 2]}, weight[i]});

    const auto sub_at = file.numbers(root + "/subs/position", {q, 3});
    const auto sub_name = file.texts(root + "/subs/name", q);
    const auto gain = file.numbers(root + "/subs/gain", {q}),
               delay = file.numbers(root + "/subs/delay", {q});
    const auto polarity = file.numbers(root + "/subs/polarity", {q});
    for (std::size_t i = 0; i < q; ++i)
        heard.subs.push_back({sub_name[i],
                              {sub_at[3 * i], sub_at[3 * i + 1], sub_at[3 * i + 2]},
                              {gain[i], delay[i], polarity[i] < 0 ? -1 : 1}});

    const auto promised = [&](const char* name) { return root.empty() || file.has(root + name); };
    if (promised("/transfer_impedance"))
        heard.transfer_impedance = {f, s, q,
                                    file.complexes(root + "/transfer_impedance", {f, s, q})};
    if (promised("/volume_velocity"))
        heard.volume_velocity = {f, q, 1, file.complexes(root + "/volume_velocity", {f, q})};
    heard.level_db = {f, s, 1, file.numbers(root + "/level", {f, s})};
    if (file.has(root + "/phase"))
        heard.phase_deg = {f, s, 1, file.numbers(root + "/phase", {f, s})};
    for (const auto& c : curve_columns)
        if (const std::string name = root + "/" + c.dataset; file.has(name))
            heard.*c.member = file.numbers(name, {f});
    if (file.has(root + "/limited_by")) heard.limited_by = file.texts(root + "/limited_by", f);
    if (file.has(root + "/cone_load"))
        heard.cone_load_db = {f, q, 1, file.numbers(root + "/cone_load", {f, q})};

    for (const Criterion& c : criterion_table)
        heard.criteria.*c.member = file.number_or_unknown(root + "/criteria/" + c.name);
    return heard;
}

}  // namespace boxroom
