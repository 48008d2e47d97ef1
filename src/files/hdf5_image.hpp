#pragma once
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "files/hdf5_handle.hpp"
#include "files/hdf5_pieces.hpp"

namespace boxroom {

/// An HDF5 file in memory that somebody may have crafted, read by libhdf5 in this very process: see
/// files/hdf5_pieces.hpp for the child in which that is done.
class Hdf5Image {
  public:
    /// Why it is not read: a sentence's beginning.
    struct Refusal : std::runtime_error {
        using std::runtime_error::runtime_error;
    };

    /// Throws Refusal if it is no HDF5 file. The bytes are copied.
    explicit Hdf5Image(std::string_view bytes);

    /// The dataset or attribute of that name, if there is one. Throws Refusal for what this program
    /// does not write, and for what claims to be longer than the file.
    std::optional<Hdf5Piece> piece(const std::string& name) const;

  private:
    bool leads_here(const std::string& name) const;
    std::optional<Hdf5Piece> attribute(const std::string& group, const std::string& name) const;
    Hdf5Piece described(const std::string& name, hid_t type, hid_t space) const;

    Hdf5Silence silence_;
    std::size_t size_;
    Hdf5Handle file_;
};

}  // namespace boxroom
