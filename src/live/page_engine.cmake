# The live page's engine: the solver, the woofer and the criteria compiled to WebAssembly from the
# same sources, and put into the program as bytes so that every report can carry them. Without
# em++ (Debian: emscripten and node-acorn) the program is complete all the same and its reports
# stand still.
option(BOXROOM_LIVE "Compile the engine of the live report, where em++ is found" ON)
find_program(BOXROOM_EMXX em++)
set(live_parts ${CMAKE_BINARY_DIR}/live)
file(MAKE_DIRECTORY ${live_parts})

set(engine ${live_parts}/engine.wasm)
if(BOXROOM_LIVE AND BOXROOM_EMXX)
  message(STATUS "Live report: compiling its engine with ${BOXROOM_EMXX}")
  set(engine_sources src/base/frequency_grid.cpp src/base/processor.cpp src/base/sides.cpp
    src/placement/array_vectors.cpp src/placement/vectors/array_vectors.cpp
    src/placement/cone_load.cpp src/placement/criteria.cpp src/placement/decay_words.cpp src/placement/many_levels.cpp
    src/placement/listening.cpp src/placement/pressure.cpp src/placement/size_nodes.cpp
    src/placement/sources.cpp src/placement/spots.cpp src/placement/standing.cpp src/placement/spot_fields.cpp
    src/live/flat_scenario.cpp src/live/live_room.cpp src/live/live_exports.cpp
    solvers/axis_modes.cpp solvers/check_points.cpp solvers/contents.cpp solvers/dense_algebra.cpp solvers/floor_layout.cpp
    solvers/floor_sum.cpp solvers/floor_vectors.cpp solvers/vectors/floor_vectors.cpp
    solvers/product_vectors.cpp solvers/vectors/product_vectors.cpp solvers/modal.cpp
    solvers/modal_drafts.cpp solvers/modal_many.cpp solvers/open_room.cpp solvers/plausible_decay.cpp solvers/room_modes.cpp
    solvers/port_wall.cpp solvers/ports.cpp solvers/prepared_room.cpp
    solvers/room.cpp solvers/room_plan.cpp solvers/room_solver.cpp solvers/wall.cpp)
  file(GLOB grid_sources CONFIGURE_DEPENDS RELATIVE ${CMAKE_CURRENT_SOURCE_DIR} solvers/grid*.cpp)
  list(APPEND engine_sources ${grid_sources})  # room_solver.cpp is the switch between the two
  file(GLOB woofer_sources CONFIGURE_DEPENDS RELATIVE ${CMAKE_CURRENT_SOURCE_DIR} src/woofer/*.cpp)
  set(exports _live_numbers _live_open _live_close _live_set_seat _live_set_wall_absorption
    _live_set_wall_branches _live_set_part _live_decay _live_set_softness _live_set_box _live_set_place _live_set_dial _live_wall _live_answer _live_balance _live_map)
  list(JOIN exports "," exports)
  get_target_property(eigen Eigen3::Eigen INTERFACE_INCLUDE_DIRECTORIES)
  # No exceptions in it: a thrown Error traps, and the page says that it cannot work this out.
  set(engine_compiler ${CMAKE_COMMAND} -E env NODE_PATH=/usr/share/nodejs ${BOXROOM_EMXX} -std=c++20 -O3
    -msimd128 -DBOXROOM_VECTORS=vectors_baseline -Wno-unknown-pragmas -I${CMAKE_CURRENT_SOURCE_DIR}/src -I${CMAKE_CURRENT_SOURCE_DIR}
    -isystem ${eigen})
  # The standard library's headers once, each source on its own: a change costs one of them.
  set(engine_prefix ${library_headers} <Eigen/Core>)
  list(TRANSFORM engine_prefix PREPEND "#include ")
  list(JOIN engine_prefix "\n" engine_prefix)
  file(CONFIGURE OUTPUT ${live_parts}/library.hpp CONTENT "${engine_prefix}\n" @ONLY)
  add_custom_command(OUTPUT ${live_parts}/library.pch DEPENDS ${live_parts}/library.hpp VERBATIM
    COMMAND ${engine_compiler} -x c++-header ${live_parts}/library.hpp -o ${live_parts}/library.pch
    COMMENT "Precompiling headers for the live report's engine")
  set(engine_objects)
  foreach(source ${engine_sources} ${woofer_sources})
    string(REPLACE "/" "_" object ${source}.o)
    set(object ${live_parts}/${object})
    add_custom_command(OUTPUT ${object} DEPENDS ${source} ${live_parts}/library.pch DEPFILE ${object}.d VERBATIM
      COMMAND ${engine_compiler} -include-pch ${live_parts}/library.pch -MD -MF ${object}.d
        -c ${CMAKE_CURRENT_SOURCE_DIR}/${source} -o ${object}
      COMMENT "Compiling ${source} to WebAssembly")
    list(APPEND engine_objects ${object})
  endforeach()
  add_custom_command(OUTPUT ${engine} DEPENDS ${engine_objects} VERBATIM
    COMMAND ${engine_compiler} ${engine_objects} -sSTANDALONE_WASM --no-entry -sALLOW_MEMORY_GROWTH
      -sEXPORTED_FUNCTIONS=${exports} -o ${engine}
    COMMENT "Linking the live report's engine")
else()
  message(STATUS "Live report: no em++ (Debian: emscripten, node-acorn), so reports stand still")
  file(WRITE ${engine} "")
endif()

embed_file(boxroom_live page_engine live/page_engine.hpp ${engine})
