# The page's script and style, which travel in every report (src/report/page_text.hpp). The script's
# parts stand in the order in which they build on each other. It asks the engine
# (live/live_exports.hpp) what a change gives and draws it: no acoustics in there.
set(page ${CMAKE_CURRENT_SOURCE_DIR}/src/report/page)
set(page_parts engine state curves numbers floor_map work render handling room_file start)
list(TRANSFORM page_parts PREPEND ${page}/)
list(TRANSFORM page_parts APPEND .js)
join_files(${CMAKE_BINARY_DIR}/embedded/page.js "'use strict';\n(() => {\n\n" "})();\n" ${page_parts})
embed_file(boxroom_report page_script report/page_text.hpp ${CMAKE_BINARY_DIR}/embedded/page.js)
join_files(${CMAKE_BINARY_DIR}/embedded/page.css "" "" ${page}/report.css ${page}/live.css)
embed_file(boxroom_report page_style report/page_text.hpp ${CMAKE_BINARY_DIR}/embedded/page.css)
embed_file(boxroom_report folding_script report/page_text.hpp ${page}/folding.js)
embed_file(boxroom_report chart_script report/page_text.hpp ${page}/chart_reading.js)
