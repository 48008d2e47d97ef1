#pragma once
#include <string>

#include "files/hdf5_handle.hpp"

namespace boxroom {

/// An HDF5 file that is made in memory (the library's core driver without a backing store), so that
/// libhdf5 never meets a full disk: its caches write when the program ends, and there it crashes.
///
/// The bytes are taken from the driver when it closes the file. H5Fget_file_image will not do: in
/// libhdf5 1.10 it changes the superblock of the newer formats without mending its checksum, and
/// only those hold an attribute of more than 64 kB (the room file).
class Hdf5Memory {
  public:
    /// `user_block` bytes at the start are left free, zero.
    explicit Hdf5Memory(std::size_t user_block);
    Hdf5Memory(const Hdf5Memory&) = delete;
    Hdf5Memory& operator=(const Hdf5Memory&) = delete;
    ~Hdf5Memory();

    /// Negative if the file could not be made.
    hid_t file() const { return file_.get(); }
    /// Closes the file and gives away its bytes; empty if HDF5 could not close it.
    std::string take();

  private:
    void* bytes_ = nullptr;  ///< what the driver let go
    Hdf5Handle file_;
};

}  // namespace boxroom
