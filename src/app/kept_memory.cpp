#include "app/kept_memory.hpp"

#include <cstdint>
#include <cstdlib>  // tells whether this is glibc

#ifdef __GLIBC__
#include <malloc.h>
#include <sys/mman.h>
#include <unistd.h>
#endif

namespace boxroom {

#ifdef __GLIBC__
namespace {

/// The heap grows by this much at first: addresses, of which memory is taken when they are used.
constexpr int first_heap = 256 << 20;
constexpr int later_growth = 16 << 20;
constexpr int kept = 512 << 20;
constexpr std::uintptr_t large_page = 2 << 20;

}  // namespace

void keep_freed_memory() {
    mallopt(M_MMAP_MAX, 0);  // every array is in the heap, whose pages are large
    mallopt(M_TRIM_THRESHOLD, kept);
    mallopt(M_TOP_PAD, first_heap);
    void* first = std::malloc(1 << 20);
    // From the next large page to the last whole one.
    const auto at = reinterpret_cast<std::uintptr_t>(first);
    const std::size_t before = (large_page - at % large_page) % large_page;
    const auto whole = reinterpret_cast<std::uintptr_t>(sbrk(0)) / large_page * large_page;
    char* const begin = static_cast<char*>(first) + before;
    // Refused where the kernel has no large pages, and nothing is lost.
    if (first && at + before < whole) madvise(begin, whole - at - before, MADV_HUGEPAGE);
    std::free(first);
    mallopt(M_TOP_PAD, later_growth);
}
#else
void keep_freed_memory() {}
#endif

}  // namespace boxroom
