#pragma once
#include <hdf5.h>

#include <utility>

namespace boxroom {

/// Owns one HDF5 identifier and closes it with the function that belongs to its kind.
class Hdf5Handle {
  public:
    using Closer = herr_t (*)(hid_t);

    Hdf5Handle() = default;
    Hdf5Handle(hid_t id, Closer closer) : id_(id), closer_(closer) {}
    Hdf5Handle(Hdf5Handle&& other) noexcept
        : id_(std::exchange(other.id_, H5I_INVALID_HID)), closer_(other.closer_) {}
    Hdf5Handle& operator=(Hdf5Handle&& other) noexcept {
        std::swap(id_, other.id_);
        std::swap(closer_, other.closer_);
        return *this;
    }
    ~Hdf5Handle() { close(); }

    bool valid() const { return id_ >= 0; }
    hid_t get() const { return id_; }
    /// False if HDF5 could not close it: for a file that is where a full disk shows.
    bool close() {
        const hid_t id = std::exchange(id_, H5I_INVALID_HID);
        return id < 0 || closer_(id) >= 0;
    }

  private:
    hid_t id_ = H5I_INVALID_HID;
    Closer closer_ = nullptr;
};

/// While it lives HDF5 prints nothing of its own: the project's errors say what is wrong.
class Hdf5Silence {
  public:
    Hdf5Silence() {
        H5Eget_auto2(H5E_DEFAULT, &function_, &data_);
        H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr);
    }
    ~Hdf5Silence() { H5Eset_auto2(H5E_DEFAULT, function_, data_); }
    Hdf5Silence(const Hdf5Silence&) = delete;
    Hdf5Silence& operator=(const Hdf5Silence&) = delete;

  private:
    H5E_auto2_t function_ = nullptr;
    void* data_ = nullptr;
};

/// {r, i} of doubles: what h5py and others read as a complex number. Same layout as std::complex.
inline Hdf5Handle hdf5_complex() {
    Hdf5Handle type(H5Tcreate(H5T_COMPOUND, 2 * sizeof(double)), H5Tclose);
    H5Tinsert(type.get(), "r", 0, H5T_NATIVE_DOUBLE);
    H5Tinsert(type.get(), "i", sizeof(double), H5T_NATIVE_DOUBLE);
    return type;
}

/// UTF-8 of at most `length` bytes, padded with zeros. Never of variable length: those go through
/// the file's global heap, where libhdf5 crashes on damaged files (H5HG_read).
inline Hdf5Handle hdf5_text(std::size_t length) {
    Hdf5Handle type(H5Tcopy(H5T_C_S1), H5Tclose);
    H5Tset_size(type.get(), length > 0 ? length : 1);  // a type of no bytes is refused
    H5Tset_strpad(type.get(), H5T_STR_NULLPAD);
    H5Tset_cset(type.get(), H5T_CSET_UTF8);
    return type;
}

}  // namespace boxroom
