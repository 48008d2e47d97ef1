# Our sources compiled to WebAssembly for the page, which every report is: the same code as the native
# program's, packed, in a file beside the program, so that who wants an answer need not wait for its
# compiler. Without em++ (Debian: emscripten and node-acorn) the program is complete all the same; its
# reports stand still and it writes no page.
option(BOXROOM_LIVE "Compile the page's engine, where em++ is found" ON)
find_program(BOXROOM_EMXX em++)
set(packed_engine ${CMAKE_BINARY_DIR}/boxroom_engine.wasm.gz)
set(engine_folder ${CMAKE_BINARY_DIR}/engine)
if(BOXROOM_LIVE AND BOXROOM_EMXX)
  set(BOXROOM_ENGINE ON)
  message(STATUS "Page: compiling its engine with ${BOXROOM_EMXX}")
  # The libraries' headers alone: /usr/include itself holds another system's.
  get_target_property(eigen Eigen3::Eigen INTERFACE_INCLUDE_DIRECTORIES)
  file(MAKE_DIRECTORY ${engine_folder}/include)
  find_path(fmt_folder fmt/format.h)
  find_path(json_folder nlohmann/json.hpp)
  find_path(toml_folder toml++/toml.h)
  file(CREATE_LINK ${eigen}/Eigen ${engine_folder}/include/Eigen SYMBOLIC)
  file(CREATE_LINK ${eigen}/unsupported ${engine_folder}/include/unsupported SYMBOLIC)
  file(CREATE_LINK ${fmt_folder}/fmt ${engine_folder}/include/fmt SYMBOLIC)
  file(CREATE_LINK ${json_folder}/nlohmann ${engine_folder}/include/nlohmann SYMBOLIC)
  file(CREATE_LINK ${toml_folder}/toml++ ${engine_folder}/include/toml++ SYMBOLIC)
  # Eigen 3.4 has no vectors of WebAssembly's own, but Emscripten has those of SSE2 in terms of them: products of
  # complex matrices, of which rooms by elements are made, are up to five times as quick. Clang's own headers of
  # that name stand in the way, and Eigen has workarounds for an old GCC and for a real processor's registers,
  # which another version and an empty macro switch off.
  execute_process(COMMAND ${CMAKE_COMMAND} -E env NODE_PATH=/usr/share/nodejs ${BOXROOM_EMXX} --cflags
    OUTPUT_VARIABLE engine_cflags ERROR_QUIET)
  string(REGEX MATCH "--sysroot=([^ \n]+)" engine_sysroot "${engine_cflags}")
  set(engine_compat ${CMAKE_MATCH_1}/include/compat)
  if(EXISTS ${engine_compat}/emmintrin.h)
    file(CONFIGURE OUTPUT ${engine_folder}/include/mmintrin.h CONTENT "" @ONLY)
    set(engine_vectors -msse2 -fgnuc-version=9.0 "-D__asm__(...)=" -isystem ${engine_compat})
  endif()
  set(engine_compiler ${CMAKE_COMMAND} -E env NODE_PATH=/usr/share/nodejs ${BOXROOM_EMXX} -std=c++20
    -msimd128 -fwasm-exceptions)
  set(engine_flags ${engine_vectors} -DBOXROOM_VECTORS=vectors_baseline -DBOXROOM_VERSION="${PROJECT_VERSION}"
    -DFMT_HEADER_ONLY -DTOML_HEADER_ONLY=1 -Wno-unknown-pragmas -I${CMAKE_CURRENT_SOURCE_DIR}/src -I${CMAKE_CURRENT_SOURCE_DIR}
    -isystem ${engine_folder}/include)
  # The libraries' headers once. One level of optimisation for all, or they could not share it.
  set(engine_prefix "\"page/engine/library_gaps.hpp\"" ${library_headers} <Eigen/Core> <fmt/format.h> <nlohmann/json.hpp>)
  list(TRANSFORM engine_prefix PREPEND "#include ")
  list(JOIN engine_prefix "\n" engine_prefix)
  file(CONFIGURE OUTPUT ${engine_folder}/library.hpp CONTENT "${engine_prefix}\n" @ONLY)
  add_custom_command(OUTPUT ${engine_folder}/library.pch VERBATIM
    DEPENDS ${engine_folder}/library.hpp ${CMAKE_CURRENT_SOURCE_DIR}/src/page/engine/library_gaps.hpp
    COMMAND ${engine_compiler} -O2 ${engine_flags} -x c++-header ${engine_folder}/library.hpp -o ${engine_folder}/library.pch
    COMMENT "Precompiling headers for the engine")
else()
  set(BOXROOM_ENGINE OFF)
  message(STATUS "Page: no em++ (Debian: emscripten, node-acorn), so reports stand still")
endif()

# engine_objects(OUT SOURCE...): sources as WebAssembly, eight of a folder at a time, as the native build takes
# them (CMAKE_UNITY_BUILD); the objects in OUT. Those in folders called vectors each by itself.
function(engine_objects out)
  set(all)
  set(folder)
  set(batch)
  list(APPEND ARGN end)  # of the last batch
  foreach(source ${ARGN})
    cmake_path(GET source PARENT_PATH here)
    list(LENGTH batch length)
    if(batch AND (NOT here STREQUAL folder OR length EQUAL 8 OR here MATCHES "vectors$"))
      list(GET batch 0 object)
      cmake_path(GET object RELATIVE_PART object)
      string(REPLACE "/" "_" object ${object})
      set(object ${engine_folder}/${object}.o)
      set(text)
      set(paths)
      foreach(one ${batch})
        cmake_path(ABSOLUTE_PATH one BASE_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} OUTPUT_VARIABLE path)
        string(APPEND text "#include \"${path}\"\n")
        list(APPEND paths ${path})
      endforeach()
      file(CONFIGURE OUTPUT ${object}.cpp CONTENT "${text}" @ONLY)
      add_custom_command(OUTPUT ${object} DEPENDS ${object}.cpp ${paths} ${engine_folder}/library.pch DEPFILE ${object}.d
        COMMAND ${engine_compiler} -O2 ${engine_flags} -include-pch ${engine_folder}/library.pch -MD -MF ${object}.d
          -c ${object}.cpp -o ${object}
        VERBATIM COMMENT "Compiling ${length} sources of ${folder} to WebAssembly")
      list(APPEND all ${object})
      set(batch)
    endif()
    set(folder ${here})
    list(APPEND batch ${source})
  endforeach()
  set(${out} ${all} PARENT_SCOPE)
endfunction()

# build_engine(TEXT...): the engine itself. TEXT is NAME:FILE, what the page is made of, as text: the
# assembler of embed_file() is another processor's.
function(build_engine)
  file(GLOB sources CONFIGURE_DEPENDS RELATIVE ${CMAKE_CURRENT_SOURCE_DIR} src/base/*.cpp src/woofer/*.cpp
    src/placement/*.cpp src/placement/vectors/*.cpp src/tuning/*.cpp src/tuning/vectors/*.cpp solvers/*.cpp
    solvers/vectors/*.cpp src/room_file/*.cpp src/picture/*.cpp src/report/*.cpp src/answers/*.cpp src/live/*.cpp
    src/page/*.cpp src/page/engine/*.cpp)
  list(FILTER sources EXCLUDE REGEX "report/(survey|compare)_page")  # no command of the page's
  file(GLOB measured CONFIGURE_DEPENDS RELATIVE ${CMAKE_CURRENT_SOURCE_DIR} src/measured/*.cpp)
  list(FILTER measured EXCLUDE REGEX "(sound_file|sweep|response|impedance|driver_parameters)[.]cpp$")  # sound and plain impedances
  list(APPEND sources src/files/csv.cpp src/files/set_tables.cpp ${measured})
  foreach(pair ${ARGN})
    string(REGEX MATCH "^([a-z_]+):(.*)$" whole ${pair})
    set(text ${engine_folder}/${CMAKE_MATCH_1}.cpp)
    join_files(${text} "#include \"report/page_text.hpp\"\nstd::string_view boxroom::${CMAKE_MATCH_1}() { return R\"~~~~(" ")~~~~\"; }\n"
      ${CMAKE_MATCH_2})
    list(APPEND sources ${text})
  endforeach()
  engine_objects(objects ${sources})
  set(exports _page_request _page_reply _live_numbers _live_open _live_close _live_set_seat _live_set_wall_absorption
    _live_set_wall_branches _live_set_part _live_decay _live_set_softness _live_set_box _live_set_place _live_set_dial
    _live_wall _live_answer _live_balance _live_map _live_learnt _live_kept _live_kept_size _live_bytes _live_take
    _page_learn _page_learnt _page_learnt_size)
  list(JOIN exports "," exports)
  set(engine ${engine_folder}/engine.wasm)
  # One file that needs nothing of its surroundings but what it imports.
  add_custom_command(OUTPUT ${engine} DEPENDS ${objects} VERBATIM
    COMMAND ${engine_compiler} -O2 ${objects} -sSTANDALONE_WASM --no-entry -sALLOW_MEMORY_GROWTH
      -sWARN_ON_UNDEFINED_SYMBOLS=0 -sERROR_ON_UNDEFINED_SYMBOLS=0 -sEXPORTED_FUNCTIONS=${exports} -o ${engine}
    COMMENT "Linking the page's engine")
  file(CONFIGURE OUTPUT ${engine_folder}/pack.cmake @ONLY CONTENT
    "file(ARCHIVE_CREATE OUTPUT ${packed_engine} PATHS ${engine} FORMAT raw COMPRESSION GZip COMPRESSION_LEVEL 9 MTIME 0)\n")
  add_custom_command(OUTPUT ${packed_engine} DEPENDS ${engine} VERBATIM
    COMMAND ${CMAKE_COMMAND} -P ${engine_folder}/pack.cmake COMMENT "Packing the page's engine")
  # A target of its own: its objects need not wait for the program.
  add_custom_target(boxroom_engine DEPENDS ${packed_engine})
endfunction()
