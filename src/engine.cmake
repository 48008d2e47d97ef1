# Our sources compiled to WebAssembly, for the live report and for the page: the same code as the native
# program's. Without em++ (Debian: emscripten and node-acorn) the program is complete all the same; its
# reports stand still and it writes no page.
option(BOXROOM_LIVE "Compile the engines of report and page, where em++ is found" ON)
find_program(BOXROOM_EMXX em++)
set(engine_folder ${CMAKE_BINARY_DIR}/engine)
if(BOXROOM_LIVE AND BOXROOM_EMXX)
  set(BOXROOM_ENGINES ON)
  message(STATUS "Live report and page: compiling their engines with ${BOXROOM_EMXX}")
  # The libraries' headers alone: /usr/include itself holds another system's.
  get_target_property(eigen Eigen3::Eigen INTERFACE_INCLUDE_DIRECTORIES)
  file(MAKE_DIRECTORY ${engine_folder}/include)
  find_path(fmt_folder fmt/format.h)
  find_path(json_folder nlohmann/json.hpp)
  find_path(toml_folder toml++/toml.h)
  file(CREATE_LINK ${eigen}/Eigen ${engine_folder}/include/Eigen SYMBOLIC)
  file(CREATE_LINK ${fmt_folder}/fmt ${engine_folder}/include/fmt SYMBOLIC)
  file(CREATE_LINK ${json_folder}/nlohmann ${engine_folder}/include/nlohmann SYMBOLIC)
  file(CREATE_LINK ${toml_folder}/toml++ ${engine_folder}/include/toml++ SYMBOLIC)
  set(engine_compiler ${CMAKE_COMMAND} -E env NODE_PATH=/usr/share/nodejs ${BOXROOM_EMXX} -std=c++20
    -msimd128 -fwasm-exceptions)
  set(engine_flags -DBOXROOM_VECTORS=vectors_baseline -DBOXROOM_VERSION="${PROJECT_VERSION}" -DFMT_HEADER_ONLY
    -DTOML_HEADER_ONLY=1 -Wno-unknown-pragmas -I${CMAKE_CURRENT_SOURCE_DIR}/src -I${CMAKE_CURRENT_SOURCE_DIR}
    -isystem ${engine_folder}/include)
  # The libraries' headers once, each source on its own: a change costs one of them. One level of
  # optimisation for all, or they could not share it.
  set(engine_prefix "\"page/engine/library_gaps.hpp\"" ${library_headers} <Eigen/Core> <fmt/format.h> <nlohmann/json.hpp>)
  list(TRANSFORM engine_prefix PREPEND "#include ")
  list(JOIN engine_prefix "\n" engine_prefix)
  file(CONFIGURE OUTPUT ${engine_folder}/library.hpp CONTENT "${engine_prefix}\n" @ONLY)
  add_custom_command(OUTPUT ${engine_folder}/library.pch VERBATIM
    DEPENDS ${engine_folder}/library.hpp ${CMAKE_CURRENT_SOURCE_DIR}/src/page/engine/library_gaps.hpp
    COMMAND ${engine_compiler} -O2 ${engine_flags} -x c++-header ${engine_folder}/library.hpp -o ${engine_folder}/library.pch
    COMMENT "Precompiling headers for the engines")
else()
  set(BOXROOM_ENGINES OFF)
  message(STATUS "Live report and page: no em++ (Debian: emscripten, node-acorn), so reports stand still")
endif()

# engine_object(OUT SOURCE VARIANT FLAG...): one source as WebAssembly; its object in OUT. Two engines that
# want the same source in the same variant share the object.
function(engine_object out source variant)
  string(REPLACE "/" "_" object ${source}.${variant}.o)
  set(object ${engine_folder}/${object})
  get_property(known GLOBAL PROPERTY boxroom_engine_objects)
  if(NOT object IN_LIST known)
    set_property(GLOBAL APPEND PROPERTY boxroom_engine_objects ${object})
    cmake_path(ABSOLUTE_PATH source BASE_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} OUTPUT_VARIABLE path)
    add_custom_command(OUTPUT ${object} DEPENDS ${path} ${engine_folder}/library.pch DEPFILE ${object}.d VERBATIM
      COMMAND ${engine_compiler} -O2 ${engine_flags} ${ARGN} -include-pch ${engine_folder}/library.pch -MD -MF ${object}.d
        -c ${path} -o ${object}
      COMMENT "Compiling ${source} to WebAssembly")
  endif()
  set(${out} ${object} PARENT_SCOPE)
endfunction()

# engine_objects(OUT SOURCE...): many, as they are.
function(engine_objects out)
  set(all)
  foreach(source ${ARGN})
    engine_object(one ${source} plain)
    list(APPEND all ${one})
  endforeach()
  set(${out} ${all} PARENT_SCOPE)
endfunction()

# link_engine(OUT EXPORTS OBJECT...): one file that needs nothing of its surroundings but what it imports.
function(link_engine out exports)
  list(JOIN exports "," exports)
  get_filename_component(name ${out} NAME)
  get_filename_component(folder ${out} DIRECTORY)
  file(MAKE_DIRECTORY ${folder})
  add_custom_command(OUTPUT ${out} DEPENDS ${ARGN} VERBATIM
    COMMAND ${engine_compiler} -O2 ${ARGN} -sSTANDALONE_WASM --no-entry -sALLOW_MEMORY_GROWTH
      -sWARN_ON_UNDEFINED_SYMBOLS=0 -sERROR_ON_UNDEFINED_SYMBOLS=0 -sEXPORTED_FUNCTIONS=${exports} -o ${out}
    COMMENT "Linking ${name}")
endfunction()
