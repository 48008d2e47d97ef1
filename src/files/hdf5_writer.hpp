#pragma once
#include <complex>
#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include "files/hdf5_handle.hpp"
#include "files/whole_file.hpp"

namespace boxroom {

/// Unit and meaning, carried by every dataset.
struct Label {
    const char* units;
    std::string description;
};

/// Writes one HDF5 file, whole or not at all. Paths are absolute; groups on the way are made.
/// Shapes are row-major, an empty shape is a scalar. Every call throws Error where HDF5 fails, and
/// for data whose length is not the shape's.
class Hdf5Writer {
  public:
    using Shape = std::vector<hsize_t>;

    explicit Hdf5Writer(const std::filesystem::path& path);

    void numbers(const std::string& name, std::span<const double> data, const Shape&, const Label&);
    void numbers(const std::string& name, std::span<const std::complex<double>> data, const Shape&,
                 const Label&);
    void integers(const std::string& name, std::span<const int> data, const Shape&, const Label&);
    void flags(const std::string& name, std::span<const std::uint8_t> data, const Shape&,
               const Label&);
    void number(const std::string& name, double value, const Label& label) {
        numbers(name, std::span(&value, 1), {}, label);
    }
    void texts(const std::string& name, const std::vector<std::string>& data, const Label&);
    void text(const std::string& name, const std::string& data, const Label&);

    /// Attributes of the group `group`, which is made if it is missing ("/" is the root).
    void attribute(const std::string& group, const char* name, const std::string& value);
    void attribute(const std::string& group, const char* name, double value);
    void attribute(const std::string& group, const char* name, int value);

    /// Closes the file and gives it its name.
    void commit();

  private:
    void dataset(const std::string& name, hid_t type, const void* data, std::size_t size,
                 const Shape& shape, const Label& label);
    void attach(hid_t object, const char* name, hid_t type, const void* value);
    Hdf5Handle group(const std::string& name);
    void require(bool good, const std::string& what) const;

    Hdf5Silence silence_;
    std::string path_;
    WholeFile whole_;  ///< before file_: the file is closed before its temporary name goes
    Hdf5Handle file_;
};

}  // namespace boxroom
