#pragma once
#include <complex>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "files/hdf5_memory.hpp"

namespace boxroom {

/// Unit and meaning, carried by every dataset.
struct Label {
    const char* units;
    std::string description;
};

/// Makes one HDF5 file in memory. Names are absolute paths; groups on the way are made. Shapes are
/// row-major, an empty shape is a scalar. Every call throws std::runtime_error where HDF5 fails
/// (memory may run out), std::logic_error for data whose length is not the shape's.
class Hdf5Writer {
  public:
    using Shape = std::vector<hsize_t>;

    Hdf5Writer();

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

    /// Closes the file, seals it and gives away its bytes.
    std::string take();

  private:
    void dataset(const std::string& name, hid_t type, const void* data, std::size_t size,
                 const Shape& shape, const Label& label);
    Hdf5Handle group(const std::string& name);

    Hdf5Silence silence_;
    Hdf5Memory memory_;
};

}  // namespace boxroom
