#include "base/processor.hpp"

namespace boxroom {
namespace {

VectorSet widest() {
#ifdef BOXROOM_VECTOR_SETS  // asked of the processor and of the system, which must save the
                            // registers
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
        __builtin_cpu_supports("avx512vl") && __builtin_cpu_supports("fma"))
        return VectorSet::avx512;
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) return VectorSet::avx2;
#endif
    return VectorSet::baseline;
}

}  // namespace

VectorSet vector_set() {
    static const VectorSet set = widest();
    return set;
}

const char* vector_instructions(VectorSet set) {
    if (set == VectorSet::avx512) return "AVX-512";
    if (set == VectorSet::avx2) return "AVX2 and FMA";
#ifdef __SSE2__
    return "SSE2";
#elif defined(__ARM_NEON)
    return "NEON";
#else
    return "plain";
#endif
}

}  // namespace boxroom
