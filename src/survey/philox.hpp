#pragma once
#include <array>
#include <cstdint>

namespace boxroom {

/// Four random words of 32 bits from a counter and a key: Philox 4x32 of ten rounds (Salmon,
/// Moraes, Dror & Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC 2011, section 3.3). There
/// is no state: whoever asks for a counter gets the same words.
std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter,
                                    std::array<std::uint32_t, 2> key);

/// A number strictly between 0 and 1 from the first 53 bits of philox().
double philox_uniform(const std::array<std::uint32_t, 4>& counter, std::uint64_t key);

}  // namespace boxroom
