#include "files/hdf5_memory.hpp"

#include <cstdlib>
#include <cstring>

namespace boxroom {

namespace {

constexpr std::size_t increment = 4096;  ///< of the memory; the file is a whole number of them

void* allocate(std::size_t size, H5FD_file_image_op_t, void*) {
    return std::malloc(size);
}

void* copy(void* to, const void* from, std::size_t size, H5FD_file_image_op_t, void*) {
    return std::memcpy(to, from, size);
}

void* reallocate(void* bytes, std::size_t size, H5FD_file_image_op_t, void*) {
    return std::realloc(bytes, size);
}

/// On closing, the bytes go to the pointer at `user` instead.
herr_t release(void* bytes, H5FD_file_image_op_t when, void* user) {
    if (when == H5FD_FILE_IMAGE_OP_FILE_CLOSE)
        *static_cast<void**>(user) = bytes;
    else
        std::free(bytes);
    return 0;
}

void* share(void* user) {
    return user;
}

herr_t leave(void*) {
    return 0;
}

/// The newer formats of 1.8: attributes of any length.
hid_t create(std::size_t user_block, void** taken) {
    const Hdf5Handle access(H5Pcreate(H5P_FILE_ACCESS), H5Pclose);
    H5Pset_fapl_core(access.get(), increment, false);
    H5Pset_libver_bounds(access.get(), H5F_LIBVER_V18, H5F_LIBVER_V18);
    H5FD_file_image_callbacks_t calls{allocate, copy, reallocate, release, share, leave, taken};
    H5Pset_file_image_callbacks(access.get(), &calls);
    const Hdf5Handle creation(H5Pcreate(H5P_FILE_CREATE), H5Pclose);
    H5Pset_userblock(creation.get(), user_block);
    H5Pset_obj_track_times(creation.get(), false);  // the same run writes the same bytes
    return H5Fcreate("memory", H5F_ACC_TRUNC, creation.get(), access.get());
}

}  // namespace

Hdf5Memory::Hdf5Memory(std::size_t user_block) : file_(create(user_block, &bytes_), H5Fclose) {}

Hdf5Memory::~Hdf5Memory() {
    file_.close();
    std::free(bytes_);
}

std::string Hdf5Memory::take() {
    hsize_t size = 0;
    if (H5Fflush(file_.get(), H5F_SCOPE_GLOBAL) < 0 || H5Fget_filesize(file_.get(), &size) < 0 ||
        !file_.close() || !bytes_)
        return {};
    std::string all(static_cast<const char*>(bytes_), size);
    std::free(bytes_);
    bytes_ = nullptr;
    return all;
}

}  // namespace boxroom
