#pragma once
#include <Eigen/Core>
#include <cstring>
#include <string>
#include <string_view>

namespace boxroom {

/// Numbers as the bytes that this machine has of them.
template <typename T>
std::string_view raw_bytes(const T* values, std::size_t count) {
    return {reinterpret_cast<const char*>(values), count * sizeof(T)};
}

/// ... written one after another.
struct RawWriter {
    std::string bytes;
    template <typename T>
    void put(const T* values, std::size_t count) {
        bytes += raw_bytes(values, count);
    }
    /// A square matrix, after its size.
    void put(const Eigen::MatrixXd& m) {
        const double size = static_cast<double>(m.rows());
        put(&size, 1), put(m.data(), static_cast<std::size_t>(m.size()));
    }
};

/// ... and read again; what is too short or otherwise sized leaves `whole` false.
struct RawReader {
    std::string_view bytes;
    bool whole = true;
    template <typename T>
    void get(T* values, std::size_t count) {
        whole = whole && count <= bytes.size() / sizeof(T);
        if (!whole || count == 0) return;
        std::memcpy(values, bytes.data(), count * sizeof(T));
        bytes.remove_prefix(count * sizeof(T));
    }
    /// A square matrix of `size`, or an empty one.
    Eigen::MatrixXd matrix(Eigen::Index size) {
        double rows = -1;
        get(&rows, 1);
        whole = whole && (rows == 0 || rows == static_cast<double>(size));
        if (!whole) return {};
        Eigen::MatrixXd m(static_cast<Eigen::Index>(rows), static_cast<Eigen::Index>(rows));
        get(m.data(), static_cast<std::size_t>(m.size()));
        return m;
    }
};

}  // namespace boxroom
