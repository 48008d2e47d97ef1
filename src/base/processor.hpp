#pragma once

namespace boxroom {

/// The sets of vector instructions that the inner loops are compiled for. What a file of a folder
/// called `vectors` defines is there once for each of them; `baseline` is what every processor of
/// the kind has (SSE2 on x86-64), and the only one on other kinds.
enum class VectorSet { baseline, avx2, avx512 };

/// The widest that this processor and its system can run.
VectorSet vector_set();
/// Whether this processor can run one.
inline bool can_run(VectorSet set) {
    return set <= vector_set();
}
/// By name, as people call it: "AVX2 and FMA".
const char* vector_instructions(VectorSet set = vector_set());

}  // namespace boxroom

// Which sets there are, as CMakeLists.txt compiles them.
#if defined(__x86_64__) && defined(__GNUC__)
#define BOXROOM_VECTOR_SETS
#endif

// BOXROOM_VECTOR_TABLE(Type, name) defines `const Type& name(VectorSet)` in namespace boxroom. The
// tables it chooses from are those that a file in a folder `vectors` defines, one a set; the set
// must be one that the processor can run.
#ifdef BOXROOM_VECTOR_SETS
#define BOXROOM_VECTOR_TABLE(Type, name)                          \
    namespace boxroom {                                           \
    namespace vectors_baseline {                                  \
    extern const Type name;                                       \
    }                                                             \
    namespace vectors_avx2 {                                      \
    extern const Type name;                                       \
    }                                                             \
    namespace vectors_avx512 {                                    \
    extern const Type name;                                       \
    }                                                             \
    const Type& name(VectorSet set) {                             \
        return set == VectorSet::avx512 ? vectors_avx512::name    \
               : set == VectorSet::avx2 ? vectors_avx2::name      \
                                        : vectors_baseline::name; \
    }                                                             \
    }
#else
#define BOXROOM_VECTOR_TABLE(Type, name) \
    namespace boxroom {                  \
    namespace vectors_baseline {         \
    extern const Type name;              \
    }                                    \
    const Type& name(VectorSet) {        \
        return vectors_baseline::name;   \
    }                                    \
    }
#endif
