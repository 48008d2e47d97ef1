#include "survey/philox.hpp"

namespace boxroom {
namespace {

constexpr std::uint32_t multiplier[] = {0xD2511F53, 0xCD9E8D57};
constexpr std::uint32_t weyl[] = {0x9E3779B9, 0xBB67AE85};  // golden ratio, sqrt(3) - 1
constexpr int rounds = 10;

}  // namespace

std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> c,
                                    std::array<std::uint32_t, 2> key) {
    for (int round = 0; round < rounds; ++round) {
        const std::uint64_t a = std::uint64_t{multiplier[0]} * c[0];
        const std::uint64_t b = std::uint64_t{multiplier[1]} * c[2];
        c = {static_cast<std::uint32_t>(b >> 32) ^ c[1] ^ key[0], static_cast<std::uint32_t>(b),
             static_cast<std::uint32_t>(a >> 32) ^ c[3] ^ key[1], static_cast<std::uint32_t>(a)};
        key[0] += weyl[0], key[1] += weyl[1];
    }
    return c;
}

double philox_uniform(const std::array<std::uint32_t, 4>& counter, std::uint64_t key) {
    const auto words =
        philox(counter, {static_cast<std::uint32_t>(key), static_cast<std::uint32_t>(key >> 32)});
    const std::uint64_t bits = (std::uint64_t{words[0]} << 21) | (words[1] >> 11);
    return (static_cast<double>(bits) + 0.5) * 0x1p-53;  // the middle of each step: neither 0 nor 1
}

}  // namespace boxroom
