#include "files/hdf5_writer.hpp"

#include "base/error.hpp"
#include "files/hdf5_seal.hpp"

namespace boxroom {

namespace {

/// A new file with room for the seal.
hid_t create(const std::string& path) {
    const Hdf5Handle creation(H5Pcreate(H5P_FILE_CREATE), H5Pclose);
    H5Pset_userblock(creation.get(), seal_size);
    return H5Fcreate(path.c_str(), H5F_ACC_TRUNC, creation.get(), H5P_DEFAULT);
}

}  // namespace

Hdf5Writer::Hdf5Writer(const std::filesystem::path& path)
    : path_(path.string()), whole_(path), file_(create(whole_.temporary()), H5Fclose) {
    require(file_.valid(), "the file cannot be created");
}

void Hdf5Writer::require(bool good, const std::string& what) const {
    if (!good)
        throw Error(path_, what,
                    "check that the disk has room and that the folder may be written, or choose "
                    "another folder with --out");
}

void Hdf5Writer::attach(hid_t object, const char* name, hid_t type, const void* value) {
    const Hdf5Handle space(H5Screate(H5S_SCALAR), H5Sclose);
    const Hdf5Handle made(H5Acreate2(object, name, type, space.get(), H5P_DEFAULT, H5P_DEFAULT),
                          H5Aclose);
    require(made.valid() && H5Awrite(made.get(), type, value) >= 0,
            std::string("the attribute ") + name + " cannot be written");
}

void Hdf5Writer::dataset(const std::string& name, hid_t type, const void* data, std::size_t size,
                         const Shape& shape, const Label& label) {
    hsize_t expected = 1;
    for (const hsize_t n : shape) expected *= n;
    if (expected != size)
        throw Error("Hdf5Writer",
                    name + " has " + std::to_string(size) + " values, its shape asks for " +
                        std::to_string(expected),
                    "this is a fault of the program");

    const Hdf5Handle space(
        shape.empty() ? H5Screate(H5S_SCALAR)
                      : H5Screate_simple(static_cast<int>(shape.size()), shape.data(), nullptr),
        H5Sclose);
    const Hdf5Handle links(H5Pcreate(H5P_LINK_CREATE), H5Pclose);
    H5Pset_create_intermediate_group(links.get(), 1);
    const Hdf5Handle creation(H5Pcreate(H5P_DATASET_CREATE), H5Pclose);
    H5Pset_obj_track_times(creation.get(), false);  // the same run writes the same bytes
    const Hdf5Handle made(H5Dcreate2(file_.get(), name.c_str(), type, space.get(), links.get(),
                                     creation.get(), H5P_DEFAULT),
                          H5Dclose);
    require(made.valid(), name + " cannot be created");
    if (size > 0)
        require(H5Dwrite(made.get(), type, H5S_ALL, H5S_ALL, H5P_DEFAULT, data) >= 0,
                name + " cannot be written");

    const Hdf5Handle text_type = hdf5_text();
    const char* description = label.description.c_str();
    attach(made.get(), "units", text_type.get(), &label.units);
    attach(made.get(), "description", text_type.get(), &description);
}

void Hdf5Writer::numbers(const std::string& name, std::span<const double> data, const Shape& shape,
                         const Label& label) {
    dataset(name, H5T_NATIVE_DOUBLE, data.data(), data.size(), shape, label);
}

void Hdf5Writer::numbers(const std::string& name, std::span<const std::complex<double>> data,
                         const Shape& shape, const Label& label) {
    dataset(name, hdf5_complex().get(), data.data(), data.size(), shape, label);
}

void Hdf5Writer::integers(const std::string& name, std::span<const int> data, const Shape& shape,
                          const Label& label) {
    dataset(name, H5T_NATIVE_INT, data.data(), data.size(), shape, label);
}

void Hdf5Writer::flags(const std::string& name, std::span<const std::uint8_t> data,
                       const Shape& shape, const Label& label) {
    dataset(name, H5T_NATIVE_UINT8, data.data(), data.size(), shape, label);
}

void Hdf5Writer::texts(const std::string& name, const std::vector<std::string>& data,
                       const Label& label) {
    std::vector<const char*> pointers;
    for (const std::string& s : data) pointers.push_back(s.c_str());
    dataset(name, hdf5_text().get(), pointers.data(), pointers.size(), {pointers.size()}, label);
}

void Hdf5Writer::text(const std::string& name, const std::string& data, const Label& label) {
    const char* pointer = data.c_str();
    dataset(name, hdf5_text().get(), &pointer, 1, {}, label);
}

Hdf5Handle Hdf5Writer::group(const std::string& name) {
    const Hdf5Handle links(H5Pcreate(H5P_LINK_CREATE), H5Pclose);
    H5Pset_create_intermediate_group(links.get(), 1);
    Hdf5Handle found(H5Gopen2(file_.get(), name.c_str(), H5P_DEFAULT), H5Gclose);
    if (!found.valid())
        found = Hdf5Handle(
            H5Gcreate2(file_.get(), name.c_str(), links.get(), H5P_DEFAULT, H5P_DEFAULT), H5Gclose);
    require(found.valid(), name + " cannot be created");
    return found;
}

void Hdf5Writer::attribute(const std::string& where, const char* name, const std::string& value) {
    const char* pointer = value.c_str();
    attach(group(where).get(), name, hdf5_text().get(), &pointer);
}

void Hdf5Writer::attribute(const std::string& where, const char* name, double value) {
    attach(group(where).get(), name, H5T_NATIVE_DOUBLE, &value);
}

void Hdf5Writer::attribute(const std::string& where, const char* name, int value) {
    attach(group(where).get(), name, H5T_NATIVE_INT, &value);
}

void Hdf5Writer::commit() {
    require(H5Fflush(file_.get(), H5F_SCOPE_GLOBAL) >= 0 && file_.close(),
            "the file cannot be finished");
    seal_hdf5(whole_.temporary());
    whole_.commit();
}

}  // namespace boxroom
