# The live report's engine: the solver, the woofer and the criteria as WebAssembly, put into the program
# as bytes so that every report can carry them (src/engine.cmake). It holds rectangles alone: the
# elements would double it.
set(engine ${CMAKE_BINARY_DIR}/live/engine.wasm)
if(BOXROOM_ENGINES)
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
    solvers/room.cpp solvers/room_plan.cpp solvers/wall.cpp)
  file(GLOB grid_sources CONFIGURE_DEPENDS RELATIVE ${CMAKE_CURRENT_SOURCE_DIR} solvers/grid*.cpp)
  file(GLOB woofer_sources CONFIGURE_DEPENDS RELATIVE ${CMAKE_CURRENT_SOURCE_DIR} src/woofer/*.cpp)
  set(exports _live_numbers _live_open _live_close _live_set_seat _live_set_wall_absorption
    _live_set_wall_branches _live_set_part _live_decay _live_set_softness _live_set_box _live_set_place _live_set_dial _live_wall _live_answer _live_balance _live_map)
  list(JOIN exports "," exports)
  engine_objects(objects ${engine_sources} ${woofer_sources} ${grid_sources})
  engine_object(switch solvers/room_solver.cpp rectangles -DBOXROOM_RECTANGLES_ONLY)
  link_engine(${engine} "${exports}" ${objects} ${switch})
else()
  file(WRITE ${engine} "")
endif()

embed_file(boxroom_live page_engine live/page_engine.hpp ${engine})
