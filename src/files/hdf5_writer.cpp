#include "files/hdf5_writer.hpp"

#include <algorithm>
#include <stdexcept>

#include "files/hdf5_seal.hpp"

namespace boxroom {

namespace {

void require(bool good, const std::string& what) {
    if (!good)
        throw std::runtime_error("the results cannot be put together in memory: " + what +
                                 " failed in HDF5");
}

void attach(hid_t object, const char* name, hid_t type, const void* value) {
    const Hdf5Handle space(H5Screate(H5S_SCALAR), H5Sclose);
    const Hdf5Handle made(H5Acreate2(object, name, type, space.get(), H5P_DEFAULT, H5P_DEFAULT),
                          H5Aclose);
    require(made.valid() && H5Awrite(made.get(), type, value) >= 0, name);
}

void attach(hid_t object, const char* name, const std::string& text) {
    attach(object, name, hdf5_text(text.size()).get(), text.c_str());
}

}  // namespace

Hdf5Writer::Hdf5Writer() : memory_(seal_size) {
    require(memory_.file() >= 0, "a new file");
}

void Hdf5Writer::dataset(const std::string& name, hid_t type, const void* data, std::size_t size,
                         const Shape& shape, const Label& label) {
    hsize_t expected = 1;
    for (const hsize_t n : shape) expected *= n;
    if (expected != size)
        throw std::logic_error("Hdf5Writer: " + name + " has " + std::to_string(size) +
                               " values, its shape asks for " + std::to_string(expected));

    const Hdf5Handle space(
        shape.empty() ? H5Screate(H5S_SCALAR)
                      : H5Screate_simple(static_cast<int>(shape.size()), shape.data(), nullptr),
        H5Sclose);
    group(name.substr(0, name.rfind('/')));
    const Hdf5Handle creation(H5Pcreate(H5P_DATASET_CREATE), H5Pclose);
    H5Pset_obj_track_times(creation.get(), false);
    const Hdf5Handle made(H5Dcreate2(memory_.file(), name.c_str(), type, space.get(), H5P_DEFAULT,
                                     creation.get(), H5P_DEFAULT),
                          H5Dclose);
    require(made.valid(), name);
    if (size > 0)
        require(H5Dwrite(made.get(), type, H5S_ALL, H5S_ALL, H5P_DEFAULT, data) >= 0, name);
    attach(made.get(), "units", std::string(label.units));
    attach(made.get(), "description", label.description);
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
    std::size_t longest = 1;
    for (const std::string& text : data) longest = std::max(longest, text.size());
    std::string table(longest * data.size(), '\0');
    for (std::size_t i = 0; i < data.size(); ++i) data[i].copy(&table[i * longest], longest);
    dataset(name, hdf5_text(longest).get(), table.data(), data.size(), {data.size()}, label);
}

void Hdf5Writer::text(const std::string& name, const std::string& data, const Label& label) {
    dataset(name, hdf5_text(data.size()).get(), data.c_str(), 1, {}, label);
}

/// Made with those above it, and without the time: the same run writes the same bytes.
Hdf5Handle Hdf5Writer::group(const std::string& name) {
    if (name.empty()) return group("/");
    if (name == "/" || H5Lexists(memory_.file(), name.c_str(), H5P_DEFAULT) > 0)
        return {H5Gopen2(memory_.file(), name.c_str(), H5P_DEFAULT), H5Gclose};
    group(name.substr(0, name.rfind('/')));
    const Hdf5Handle creation(H5Pcreate(H5P_GROUP_CREATE), H5Pclose);
    H5Pset_obj_track_times(creation.get(), false);
    Hdf5Handle made(
        H5Gcreate2(memory_.file(), name.c_str(), H5P_DEFAULT, creation.get(), H5P_DEFAULT),
        H5Gclose);
    require(made.valid(), name);
    return made;
}

void Hdf5Writer::attribute(const std::string& where, const char* name, const std::string& value) {
    attach(group(where).get(), name, value);
}

void Hdf5Writer::attribute(const std::string& where, const char* name, double value) {
    attach(group(where).get(), name, H5T_NATIVE_DOUBLE, &value);
}

void Hdf5Writer::attribute(const std::string& where, const char* name, int value) {
    attach(group(where).get(), name, H5T_NATIVE_INT, &value);
}

std::string Hdf5Writer::take() {
    std::string bytes = memory_.take();
    require(!bytes.empty(), "the closing");
    return sealed_hdf5(std::move(bytes));
}

}  // namespace boxroom
