#pragma once
#include <cstddef>
#include <cstdint>
#include <string_view>

// What is handed to a harness are the bytes of a file. It returns where the file was read or
// refused with an Error, as DESIGN section 16 promises; anything else that is thrown ends the
// program.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace boxroom::fuzz {

inline std::string_view bytes(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

}  // namespace boxroom::fuzz
