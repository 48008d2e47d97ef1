# embed_file(TARGET FUNCTION HEADER FILE): the bytes of FILE as `std::string_view FUNCTION()` in TARGET,
# declared in HEADER. The assembler reads them (.incbin): megabytes as a C++ array take the compiler
# seconds.
function(embed_file target function header file)
  set(source ${CMAKE_BINARY_DIR}/embedded/${function}.cpp)
  set(text "// Made by src/embed.cmake from ${file}.
#include \"${header}\"

extern \"C\" const char boxroom_${function}_begin[], boxroom_${function}_end[];
asm(R\"(
  .section .rodata
  .global boxroom_${function}_begin
  .global boxroom_${function}_end
boxroom_${function}_begin:
  .incbin \"${file}\"
boxroom_${function}_end:
  .byte 0
  .text
)\");

namespace boxroom {

std::string_view ${function}() {
    return {boxroom_${function}_begin, boxroom_${function}_end};
}

}  // namespace boxroom
")
  file(CONFIGURE OUTPUT ${source} CONTENT "${text}" @ONLY)
  set_source_files_properties(${source} PROPERTIES OBJECT_DEPENDS ${file} SKIP_UNITY_BUILD_INCLUSION ON)
  target_sources(${target} PRIVATE ${source})
endfunction()

# join_files(OUT BEFORE AFTER FILE...): one file after the other, in that order, between two lines.
function(join_files out before after)
  set(join ${out}.cmake)
  set(text "file(WRITE ${out} [==[${before}]==])\n")
  foreach(part ${ARGN})
    string(APPEND text "file(READ ${part} more)\nfile(APPEND ${out} \"\${more}\\n\")\n")
  endforeach()
  string(APPEND text "file(APPEND ${out} [==[${after}]==])\n")
  file(CONFIGURE OUTPUT ${join} CONTENT "${text}" @ONLY)
  add_custom_command(OUTPUT ${out} COMMAND ${CMAKE_COMMAND} -P ${join} DEPENDS ${join} ${ARGN} VERBATIM
    COMMENT "Joining the parts of ${out}")
endfunction()
