# What the page is made of: the script and the style of its tool and of the answer in it
# (src/report/page_text.hpp), the same in the program and in the page's own engine. The script's parts stand
# in the order in which they build on each other; those of the living answer are one function, begun anew
# with each answer.
set(answer ${CMAKE_CURRENT_SOURCE_DIR}/src/report/page)
set(web ${CMAKE_CURRENT_SOURCE_DIR}/src/page/web)
set(live_parts engine beside state curves numbers floor_map work answers render handling room_file start)
list(TRANSFORM live_parts PREPEND ${answer}/)
list(TRANSFORM live_parts APPEND .js)
set(web_parts worker state fields plan_shape floor floor_form boxes recordings answer start)
list(TRANSFORM web_parts PREPEND ${web}/)
list(TRANSFORM web_parts APPEND .js)
set(made ${CMAKE_BINARY_DIR}/embedded)
join_files(${made}/live.js "const liveAnswer = given => {\n\n" "};\n" ${live_parts})
join_files(${made}/page.js "'use strict';\n(() => {\n\n" "})();\n" ${web}/module.js ${made}/live.js ${web_parts})
join_files(${made}/page.css "" "" ${answer}/report.css ${answer}/live.css)
set(page_texts page_script:${made}/page.js page_style:${made}/page.css tool_style:${web}/tool.css tool_body:${web}/tool.html
  folding_script:${answer}/folding.js chart_script:${answer}/chart_reading.js)
foreach(pair ${page_texts})
  string(REGEX MATCH "^([a-z_]+):(.*)$" whole ${pair})
  embed_file(boxroom_report ${CMAKE_MATCH_1} report/page_text.hpp ${CMAKE_MATCH_2})
endforeach()
if(BOXROOM_ENGINE)
  build_engine(${page_texts})
endif()
