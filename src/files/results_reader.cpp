#include <complex>
#include <filesystem>

#include "base/error.hpp"
#include "files/columns.hpp"
#include "files/hdf5_handle.hpp"
#include "files/hdf5_seal.hpp"
#include "files/manifest.hpp"
#include "files/results_file.hpp"
#include "results/criterion.hpp"

namespace boxroom {

namespace {

namespace fs = std::filesystem;

/// Reads datasets of one file whose sizes the caller knows; every surprise is an Error.
class Reader {
  public:
    explicit Reader(const fs::path& path) : path_(path.string()) {
        std::error_code none;
        if (!fs::exists(path, none))
            fail("there is no such file", "run `listen` first, or check the path");
        if (!fs::is_regular_file(path, none)) fail("this is not a file", "name the file listen.h5");
        bytes_ = fs::file_size(path, none);
        require_as_listed(path);
        require_unbroken_seal(path);
        file_ = Hdf5Handle(H5Fopen(path_.c_str(), H5F_ACC_RDONLY, H5P_DEFAULT), H5Fclose);
        if (!file_.valid()) fail("the file is cut short or damaged", again);
    }

    [[noreturn]] void fail(const std::string& what, const std::string& mend) const {
        throw Error(path_, what, mend);
    }

    bool has(const std::string& name) const {
        // H5Lexists wants every group on the way to exist.
        for (std::size_t slash = name.find('/', 1); slash != std::string::npos;
             slash = name.find('/', slash + 1))
            if (H5Lexists(file_.get(), name.substr(0, slash).c_str(), H5P_DEFAULT) <= 0)
                return false;
        return H5Lexists(file_.get(), name.c_str(), H5P_DEFAULT) > 0;
    }

    /// A text attribute of the root, empty if there is none.
    std::string text_attribute(const char* name) const {
        if (H5Aexists(file_.get(), name) <= 0) return {};
        const Hdf5Handle attribute(H5Aopen(file_.get(), name, H5P_DEFAULT), H5Aclose);
        const Hdf5Handle type(H5Aget_type(attribute.get()), H5Tclose);
        const Hdf5Handle space(H5Aget_space(attribute.get()), H5Sclose);
        if (!is_text(type) || H5Sget_simple_extent_npoints(space.get()) != 1) return {};
        std::string text(size_of(type), '\0');
        if (H5Aread(attribute.get(), hdf5_text(text.size()).get(), text.data()) < 0)
            fail("an attribute is damaged", again);
        return trimmed(text);
    }

    /// Of the root, "/", or of a group.
    int integer_attribute(const std::string& group, const char* name) const {
        const Hdf5Handle attribute(
            H5Aopen_by_name(file_.get(), group.c_str(), name, H5P_DEFAULT, H5P_DEFAULT), H5Aclose);
        if (!attribute.valid()) fail(std::string("the attribute ") + name + " is missing", again);
        const Hdf5Handle space(H5Aget_space(attribute.get()), H5Sclose);
        int value = 0;
        if (H5Sget_simple_extent_npoints(space.get()) != 1 ||
            H5Aread(attribute.get(), H5T_NATIVE_INT, &value) < 0)
            fail(std::string("the attribute ") + name + " cannot be read", again);
        return value;
    }

    /// The length of a one-dimensional dataset.
    std::size_t length(const std::string& name) const {
        const Hdf5Handle data = open(name);
        const std::vector<hsize_t> shape = shape_of(data);
        if (shape.size() != 1) fail(name + " is not a list", again);
        return shape[0];
    }

    template <typename T>
    std::vector<T> values(const std::string& name, std::vector<hsize_t> shape, hid_t type) const {
        const Hdf5Handle data = checked(name, shape, sizeof(T));
        std::vector<T> out(count(shape));
        if (!out.empty() &&
            H5Dread(data.get(), type, H5S_ALL, H5S_ALL, H5P_DEFAULT, out.data()) < 0)
            fail(name + " cannot be read", again);
        return out;
    }

    std::vector<double> numbers(const std::string& name, std::vector<hsize_t> shape) const {
        return values<double>(name, std::move(shape), H5T_NATIVE_DOUBLE);
    }

    std::vector<std::complex<double>> complexes(const std::string& name,
                                                std::vector<hsize_t> shape) const {
        const Hdf5Handle type = hdf5_complex();
        return values<std::complex<double>>(name, std::move(shape), type.get());
    }

    std::vector<std::string> texts(const std::string& name, std::size_t size) const {
        const Hdf5Handle data = checked(name, {size}, 1);
        const Hdf5Handle type(H5Dget_type(data.get()), H5Tclose);
        if (!is_text(type)) fail(name + " does not hold text", again);
        const std::size_t length = size_of(type);
        if (size > bytes_ / length) fail(name + " claims to be longer than the file", again);
        std::string table(size * length, '\0');
        if (size > 0 && H5Dread(data.get(), hdf5_text(length).get(), H5S_ALL, H5S_ALL, H5P_DEFAULT,
                                table.data()) < 0)
            fail(name + " cannot be read", again);
        std::vector<std::string> out;
        for (std::size_t i = 0; i < size; ++i)
            out.push_back(trimmed(table.substr(i * length, length)));
        return out;
    }

  private:
    static constexpr const char* again = "run `listen` again to write it anew";

    static bool is_text(const Hdf5Handle& type) {
        return H5Tget_class(type.get()) == H5T_STRING && H5Tis_variable_str(type.get()) == 0;
    }

    /// Bytes of one text, at least one.
    std::size_t size_of(const Hdf5Handle& type) const {
        const std::size_t size = H5Tget_size(type.get());
        if (size < 1 || size > bytes_) fail("a text claims to be longer than the file", again);
        return size;
    }

    /// Without the zeros that fill it up.
    static std::string trimmed(const std::string& text) {
        return text.substr(0, text.find_last_not_of('\0') + 1);
    }

    static std::size_t count(const std::vector<hsize_t>& shape) {
        std::size_t n = 1;
        for (const hsize_t extent : shape) n *= extent;
        return n;
    }

    Hdf5Handle open(const std::string& name) const {
        if (!has(name)) fail(name + " is missing", again);
        Hdf5Handle data(H5Dopen2(file_.get(), name.c_str(), H5P_DEFAULT), H5Dclose);
        if (!data.valid()) fail(name + " cannot be opened", again);
        return data;
    }

    std::vector<hsize_t> shape_of(const Hdf5Handle& data) const {
        const Hdf5Handle space(H5Dget_space(data.get()), H5Sclose);
        const int rank = H5Sget_simple_extent_ndims(space.get());
        std::vector<hsize_t> shape(rank > 0 ? rank : 0);
        if (rank > 0) H5Sget_simple_extent_dims(space.get(), shape.data(), nullptr);
        // Nothing is compressed, so no dataset is longer than its file: a damaged size is caught
        // before it asks for all the memory there is.
        for (const hsize_t extent : shape)
            if (extent > bytes_) fail("a dataset claims to be longer than the file", again);
        return shape;
    }

    Hdf5Handle checked(const std::string& name, const std::vector<hsize_t>& shape,
                       std::size_t element) const {
        Hdf5Handle data = open(name);
        if (shape_of(data) != shape) fail(name + " has another shape than the rest", again);
        if (count(shape) > bytes_ / element)
            fail(name + " claims to be longer than the file", again);
        return data;
    }

    std::string path_;
    std::uintmax_t bytes_ = 0;
    Hdf5Handle file_;
};

}  // namespace

std::string read_input_text(const fs::path& path) {
    const Hdf5Silence silence;
    const Reader file(path);
    const std::string text = file.text_attribute("input");
    if (file.text_attribute("program") != "boxroom" || text.empty())
        file.fail("this HDF5 file was not written by boxroom, or holds no room file",
                  "name a listen.h5, rank.h5 or plan.h5");
    return text;
}

Listening read_listening(const fs::path& path) {
    const Hdf5Silence silence;
    const Reader file(path);
    const std::string kind = file.text_attribute("kind");
    if (file.text_attribute("program") != "boxroom" || (kind != "listening" && kind != "plan"))
        file.fail("this HDF5 file was not written by `listen` or `plan`",
                  "name a listen.h5 or plan.h5");
    const std::string root = kind == "plan" ? "/at_build" : "";

    Listening heard;
    heard.absolute = file.integer_attribute(root.empty() ? "/" : root, "absolute") != 0;
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
    const auto polarity = file.values<int>(root + "/subs/polarity", {q}, H5T_NATIVE_INT);
    for (std::size_t i = 0; i < q; ++i)
        heard.subs.push_back({sub_name[i],
                              {sub_at[3 * i], sub_at[3 * i + 1], sub_at[3 * i + 2]},
                              {gain[i], delay[i], polarity[i]}});

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
        heard.criteria.*c.member = file.numbers(root + "/criteria/" + c.name, {}).at(0);
    return heard;
}

}  // namespace boxroom
