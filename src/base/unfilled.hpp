#pragma once
#include <memory>
#include <new>
#include <utility>
#include <vector>

namespace boxroom {

/// For arrays of many megabytes that all threads fill at once. Elements that no value is given for
/// begin as whatever stands there: the first to touch memory has it cleared by the system, which
/// for one thread alone takes as long as the rest of them take to work out what goes in.
template <typename T>
struct UnfilledAllocator : std::allocator<T> {
    UnfilledAllocator() = default;
    template <typename Other>
    explicit UnfilledAllocator(const UnfilledAllocator<Other>&) {}
    template <typename Other>
    struct rebind {
        using other = UnfilledAllocator<Other>;
    };
    template <typename Made>
    void construct(Made*) noexcept {}
    template <typename Made, typename... From>
    void construct(Made* at, From&&... from) {
        ::new (static_cast<void*>(at)) Made(std::forward<From>(from)...);
    }
};

/// (count) holds anything, (count, T{}) zeros. For numbers alone.
template <typename T>
using UnfilledVector = std::vector<T, UnfilledAllocator<T>>;

}  // namespace boxroom
