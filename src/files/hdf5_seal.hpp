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

/// Throws Error unless the file carries the seal that fits it: cut short, damaged, changed by
/// another program, or never sealed.
void require_unbroken_seal(const std::filesystem::path& file);

}  // namespace boxroom
