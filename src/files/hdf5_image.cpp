#include "files/hdf5_image.hpp"

#include <algorithm>

namespace boxroom {

namespace {

/// A copy in the library's hands (the core driver without a file behind it).
Hdf5Handle opened(std::string_view bytes) {
    const Hdf5Handle access(H5Pcreate(H5P_FILE_ACCESS), H5Pclose);
    H5Pset_fapl_core(access.get(), 1 << 16, false);
    // The library copies what it is given; its interface only forgets to say const.
    H5Pset_file_image(access.get(), const_cast<char*>(bytes.data()), bytes.size());
    return {H5Fopen("results", H5F_ACC_RDONLY, access.get()), H5Fclose};
}

/// As this program writes them: plain bytes within the file.
bool is_plain(hid_t dataset) {
    const Hdf5Handle creation(H5Dget_create_plist(dataset), H5Pclose);
    const H5D_layout_t layout = H5Pget_layout(creation.get());
    return (layout == H5D_CONTIGUOUS || layout == H5D_COMPACT) &&
           H5Pget_nfilters(creation.get()) == 0 && H5Pget_external_count(creation.get()) == 0;
}

bool is_number(hid_t type) {
    const H5T_class_t kind = H5Tget_class(type);
    return (kind == H5T_INTEGER || kind == H5T_FLOAT) && H5Tget_size(type) <= sizeof(double);
}

/// {r, i} of numbers.
bool is_complex(hid_t type) {
    if (H5Tget_class(type) != H5T_COMPOUND || H5Tget_nmembers(type) != 2) return false;
    for (unsigned n = 0; n < 2; ++n)
        if (!is_number(Hdf5Handle(H5Tget_member_type(type, n), H5Tclose).get())) return false;
    return true;
}

bool is_text(hid_t type) {
    return H5Tget_class(type) == H5T_STRING && H5Tis_variable_str(type) == 0;
}

/// The texts of a table of fixed length, without the zeros that fill them up.
std::vector<std::string> cut(const std::string& table, std::size_t count) {
    std::vector<std::string> texts;
    const std::size_t length = count > 0 ? table.size() / count : 0;
    for (std::size_t n = 0; n < count; ++n) {
        const std::string text = table.substr(n * length, length);
        texts.push_back(text.substr(0, text.find_last_not_of('\0') + 1));
    }
    return texts;
}

/// Fills the piece through `read`, which is H5Dread or H5Aread of one object.
template <typename Read>
void fill(Hdf5Piece& piece, hid_t type, const std::string& name, Read read) {
    bool good = true;
    if (piece.kind == Hdf5Piece::Kind::text) {
        const std::size_t length = H5Tget_size(type);
        std::string table(piece.count() * length, '\0');
        good = table.empty() || read(hdf5_text(length).get(), table.data()) >= 0;
        piece.texts = cut(table, piece.count());
    } else {
        const bool complex = piece.kind == Hdf5Piece::Kind::complex;
        piece.numbers.resize(piece.count() * (complex ? 2 : 1));
        const Hdf5Handle pair = hdf5_complex();
        good = piece.numbers.empty() ||
               read(complex ? pair.get() : H5T_NATIVE_DOUBLE, piece.numbers.data()) >= 0;
    }
    if (!good) throw Hdf5Image::Refusal(name + " cannot be read");
}

}  // namespace

Hdf5Image::Hdf5Image(std::string_view bytes) : size_(bytes.size()), file_(opened(bytes)) {
    if (!file_.valid()) throw Refusal("the file is cut short or damaged");
}

/// Every step is a hard link: none to another file, which may be a pipe that never speaks.
bool Hdf5Image::leads_here(const std::string& name) const {
    for (std::size_t slash = 0; slash != std::string::npos;) {
        slash = name.find('/', slash + 1);
        const std::string step = name.substr(0, slash);
        if (H5Lexists(file_.get(), step.c_str(), H5P_DEFAULT) <= 0) return false;
        H5L_info_t link{};
        if (H5Lget_info(file_.get(), step.c_str(), &link, H5P_DEFAULT) < 0 ||
            link.type != H5L_TYPE_HARD)
            throw Refusal(step + " leads elsewhere");
    }
    return true;
}

std::optional<Hdf5Piece> Hdf5Image::piece(const std::string& name) const {
    const std::size_t at = name.find('@');
    if (at != std::string::npos) return attribute(name.substr(0, at), name.substr(at + 1));
    if (!leads_here(name)) return std::nullopt;
    const Hdf5Handle data(H5Dopen2(file_.get(), name.c_str(), H5P_DEFAULT), H5Dclose);
    if (!data.valid()) throw Refusal(name + " cannot be opened");
    if (!is_plain(data.get())) throw Refusal(name + " is not stored as boxroom stores it");
    const Hdf5Handle type(H5Dget_type(data.get()), H5Tclose);
    const Hdf5Handle space(H5Dget_space(data.get()), H5Sclose);
    Hdf5Piece out = described(name, type.get(), space.get());
    fill(out, type.get(), name, [&](hid_t as, void* to) {
        return H5Dread(data.get(), as, H5S_ALL, H5S_ALL, H5P_DEFAULT, to);
    });
    return out;
}

std::optional<Hdf5Piece> Hdf5Image::attribute(const std::string& group,
                                              const std::string& name) const {
    if (group != "/" && !leads_here(group)) return std::nullopt;
    if (H5Aexists_by_name(file_.get(), group.c_str(), name.c_str(), H5P_DEFAULT) <= 0)
        return std::nullopt;
    const Hdf5Handle found(
        H5Aopen_by_name(file_.get(), group.c_str(), name.c_str(), H5P_DEFAULT, H5P_DEFAULT),
        H5Aclose);
    if (!found.valid()) throw Refusal("the attribute " + name + " cannot be opened");
    const Hdf5Handle type(H5Aget_type(found.get()), H5Tclose);
    const Hdf5Handle space(H5Aget_space(found.get()), H5Sclose);
    Hdf5Piece out = described("the attribute " + name, type.get(), space.get());
    fill(out, type.get(), "the attribute " + name,
         [&](hid_t as, void* to) { return H5Aread(found.get(), as, to); });
    return out;
}

/// Nothing is compressed, so nothing is longer than the file: a damaged size is caught before it
/// asks for all the memory there is.
Hdf5Piece Hdf5Image::described(const std::string& name, hid_t type, hid_t space) const {
    Hdf5Piece out;
    if (is_text(type))
        out.kind = Hdf5Piece::Kind::text;
    else if (is_complex(type))
        out.kind = Hdf5Piece::Kind::complex;
    else if (!is_number(type))
        throw Refusal(name + " holds neither numbers nor text of fixed length");
    const int rank = H5Sget_simple_extent_ndims(space);
    std::vector<hsize_t> shape(rank > 0 ? rank : 0);
    if (rank < 0 || (rank > 0 && H5Sget_simple_extent_dims(space, shape.data(), nullptr) < 0) ||
        H5Sget_simple_extent_type(space) == H5S_NULL)
        throw Refusal(name + " has no shape");
    std::size_t left = size_ / std::max<std::size_t>(H5Tget_size(type), 1);
    if (left < 1) throw Refusal(name + " claims to be longer than the file");
    for (const hsize_t extent : shape) {
        if (extent > left) throw Refusal(name + " claims to be longer than the file");
        left /= std::max<hsize_t>(extent, 1);
    }
    out.shape.assign(shape.begin(), shape.end());
    return out;
}

}  // namespace boxroom
