# What nearly every source of a folder reads is read once for all of them: half of the compiler's time
# goes into headers of libraries. Only libraries stand here, never a header of this project: what
# somebody works on must not rebuild everything. Sources include what they use all the same; clang-tidy
# (tests/tidy.sh) reads them without any of this.
#
# GCC wants the same flags where a precompiled header is made and where it is used, so each group has
# one optimisation, and every folder sees OpenMP. A source with flags of its own is left out by
# SKIP_PRECOMPILE_HEADERS.
set(library_headers <algorithm> <array> <cmath> <complex> <functional> <map> <memory> <numbers> <optional>
  <span> <string> <utility> <vector>)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  add_compile_options(-fpch-preprocess)  # without it ccache takes a precompiled header for a plain one
endif()

# boxroom_precompiled(TARGET HEADER...): the standard library's and these, for TARGET and its followers.
function(boxroom_precompiled target)
  target_precompile_headers(${target} PRIVATE ${library_headers} ${ARGN})
endfunction()

# boxroom_follow(OWNER TARGET...): these read what OWNER has precompiled.
function(boxroom_follow owner)
  foreach(target ${ARGN})
    get_target_property(kind ${target} TYPE)
    if(NOT kind STREQUAL "INTERFACE_LIBRARY")
      target_precompile_headers(${target} REUSE_FROM ${owner})
    endif()
  endforeach()
endfunction()
