#pragma once
#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace boxroom {

/// A dataset or an attribute, taken out of its file. Complex numbers stand one after the other,
/// real part first; of a dataset of texts the padding is gone.
struct Hdf5Piece {
    enum class Kind : unsigned char { number, complex, text };

    Kind kind = Kind::number;
    std::vector<std::size_t> shape;
    std::vector<double> numbers;
    std::vector<std::string> texts;

    std::size_t count() const;  ///< the product of the shape
};

/// By name: "/level" is a dataset, "/@kind" an attribute of the root, "/at_build@absolute" of a
/// group.
using Hdf5Pieces = std::map<std::string, Hdf5Piece>;

/// Those of `names` that the HDF5 file in `bytes` holds; the rest is left out. libhdf5 sees the
/// bytes in a child process (files/apart.hpp), and of them nothing that leads elsewhere: no soft or
/// external links, external storage, filters, or types of variable length. Throws Error, at
/// `where`.
Hdf5Pieces hdf5_pieces(std::string_view bytes, const std::vector<std::string>& names,
                       const std::string& where);

/// What the child says: the pieces, or why it refuses. It sees what libhdf5 makes of the bytes.
std::string packed_pieces(std::string_view bytes, const std::vector<std::string>& names);
/// ... and what is believed of it, which may be anything: a child that libhdf5 has run astray.
/// Throws Error.
Hdf5Pieces unpacked_pieces(std::string_view said, const std::string& where);

}  // namespace boxroom
