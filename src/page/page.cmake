# The page's engine: the commands as WebAssembly (page/engine), packed, in a file beside the program, so
# that who wants an answer need not wait for its compiler; and the page's own script and style.
set(page_wasm ${CMAKE_BINARY_DIR}/page/engine.wasm)
set(packed_engine ${CMAKE_BINARY_DIR}/boxroom_engine.wasm.gz)
file(MAKE_DIRECTORY ${CMAKE_BINARY_DIR}/page)
if(BOXROOM_ENGINES)
  file(GLOB page_sources CONFIGURE_DEPENDS RELATIVE ${CMAKE_CURRENT_SOURCE_DIR} src/base/*.cpp src/woofer/*.cpp
    src/placement/*.cpp src/placement/vectors/*.cpp src/tuning/*.cpp src/tuning/vectors/*.cpp solvers/*.cpp
    solvers/vectors/*.cpp src/room_file/*.cpp src/picture/*.cpp src/report/*.cpp src/answers/*.cpp
    src/page/page_answer.cpp src/page/engine/*.cpp)
  list(FILTER page_sources EXCLUDE REGEX "report/(survey|fit|compare)_page")  # no command of the page's
  list(APPEND page_sources src/files/csv.cpp src/files/set_tables.cpp src/live/flat_scenario.cpp
    src/measured/recording_names.cpp src/measured/beside_prediction.cpp)
  engine_objects(objects ${page_sources})
  # What the report is made with, as text: the assembler of embed_file() is another processor's.
  set(texts)
  foreach(pair page_script:${CMAKE_BINARY_DIR}/embedded/page.js page_style:${CMAKE_BINARY_DIR}/embedded/page.css
      folding_script:${CMAKE_CURRENT_SOURCE_DIR}/src/report/page/folding.js
      chart_script:${CMAKE_CURRENT_SOURCE_DIR}/src/report/page/chart_reading.js)
    string(REGEX MATCH "^([a-z_]+):(.*)$" whole ${pair})
    set(text ${CMAKE_BINARY_DIR}/page/${CMAKE_MATCH_1}.cpp)
    join_files(${text} "#include \"report/page_text.hpp\"\nstd::string_view boxroom::${CMAKE_MATCH_1}() { return R\"~~~~(" ")~~~~\"; }\n"
      ${CMAKE_MATCH_2})
    engine_object(object ${text} text)
    list(APPEND texts ${object})
  endforeach()
  link_engine(${page_wasm} "_page_request;_page_reply" ${objects} ${texts})
  file(CONFIGURE OUTPUT ${CMAKE_BINARY_DIR}/page/pack.cmake @ONLY CONTENT
    "file(ARCHIVE_CREATE OUTPUT ${packed_engine} PATHS ${page_wasm} FORMAT raw COMPRESSION GZip COMPRESSION_LEVEL 9 MTIME 0)\n")
  add_custom_command(OUTPUT ${packed_engine} DEPENDS ${page_wasm} VERBATIM
    COMMAND ${CMAKE_COMMAND} -P ${CMAKE_BINARY_DIR}/page/pack.cmake COMMENT "Packing the page's engine")
endif()

set(web ${CMAKE_CURRENT_SOURCE_DIR}/src/page/web)
set(web_parts worker state fields floor boxes answer start)
list(TRANSFORM web_parts PREPEND ${web}/)
list(TRANSFORM web_parts APPEND .js)
join_files(${CMAKE_BINARY_DIR}/embedded/tool.js "'use strict';\n(() => {\n\n" "})();\n" ${web_parts})
embed_file(boxroom_page tool_script page/page_html.hpp ${CMAKE_BINARY_DIR}/embedded/tool.js)
embed_file(boxroom_page tool_style page/page_html.hpp ${web}/tool.css)
embed_file(boxroom_page tool_body page/page_html.hpp ${web}/tool.html)
