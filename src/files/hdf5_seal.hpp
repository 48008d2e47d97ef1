#pragma once
#include <cstddef>
#include <filesystem>

namespace boxroom {

/// Bytes before the HDF5 data proper: the file's user block, which HDF5 leaves to the program that
/// writes (HDF5 User's Guide, chapter 3; the smallest size allowed). Every HDF5 reader skips it.
inline constexpr std::size_t seal_size = 512;

/// Writes into the user block of a closed HDF5 file one line of text with the length and the
/// checksum (FNV-1a, 64 bits: Fowler, Noll, Vo, IETF draft-eastlake-fnv) of all that follows it.
/// libhdf5 itself can crash on a file in which a single byte has changed; with the seal such a file
/// is never handed to it. Throws Error where the file cannot be read or written.
void seal_hdf5(const std::filesystem::path& file);

/// Throws Error if the file carries a seal that does not fit it. Files without a seal (from
/// another program, or repacked) pass.
void require_unbroken_seal(const std::filesystem::path& file);

}  // namespace boxroom
