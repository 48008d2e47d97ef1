#pragma once
#include <complex>
#include <cstddef>
#include <type_traits>
#include <vector>

#include "base/unfilled.hpp"

namespace boxroom {

/// Z = p/U [Pa s/m3] from every source to every receiver: value[(f * receivers + r) * sources + s].
/// double for a handful of points, float for whole floors (24 bits are 1e-6 dB).
template <typename Real>
struct TransferImpedance {
    using Values =
        std::conditional_t<std::is_same_v<Real, float>, UnfilledVector<std::complex<Real>>,
                           std::vector<std::complex<Real>>>;
    std::size_t frequencies = 0, receivers = 0, sources = 0;
    Values value;

    TransferImpedance() = default;
    /// All zero.
    TransferImpedance(std::size_t f, std::size_t r, std::size_t s)
        : frequencies(f), receivers(r), sources(s), value(f * r * s, std::complex<Real>{}) {}
    /// For whoever gives every value: of floats they are anything before.
    static TransferImpedance unfilled(std::size_t f, std::size_t r, std::size_t s) {
        TransferImpedance z;
        z.frequencies = f, z.receivers = r, z.sources = s, z.value = Values(f * r * s);
        return z;
    }
    std::complex<Real>& at(std::size_t f, std::size_t r, std::size_t s) {
        return value[(f * receivers + r) * sources + s];
    }
    const std::complex<Real>& at(std::size_t f, std::size_t r, std::size_t s) const {
        return value[(f * receivers + r) * sources + s];
    }
    /// The sources' values for one frequency and receiver, contiguous.
    const std::complex<Real>* row(std::size_t f, std::size_t r) const {
        return value.data() + (f * receivers + r) * sources;
    }
};

}  // namespace boxroom
