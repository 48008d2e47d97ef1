#pragma once
#include <cstddef>
#include <filesystem>
#include <string>

namespace boxroom {

/// Bytes before the HDF5 data proper: the file's user block, which HDF5 leaves to the program that
/// writes (HDF5 User's Guide, chapter 3; the smallest size allowed). Every HDF5 reader skips it.
inline constexpr std::size_t seal_size = 512;

/// The bytes of an HDF5 file with, in its user block, one line of text that holds the length and
/// the SHA-256 of all that follows the block. libhdf5 itself can crash on a file in which a single
/// byte has changed; with the seal such a file is never handed to it.
std::string sealed_hdf5(std::string bytes);

/// The bytes of the file, which carries the seal that fits it. Throws Error for one that is cut
/// short, damaged, changed by another program, never sealed, or larger than a gigabyte. The seal is
/// no secret: whoever wants to do harm can make one, so libhdf5 reads the bytes in a child process
/// (files/hdf5_pieces.hpp).
std::string sealed_bytes(const std::filesystem::path& file);

}  // namespace boxroom
