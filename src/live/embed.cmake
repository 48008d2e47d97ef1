# Writes OUT, a C++ source that holds the bytes of ENGINE and of the page's script, which is PARTS
# one after the other inside one function (src/live/page_parts.hpp).
function(bytes_of file name result)
  file(READ ${file} hex HEX)
  string(LENGTH "${hex}" digits)
  math(EXPR size "${digits} / 2")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  string(REGEX REPLACE "(................................................................................)"
    "\\1\n" bytes "${bytes}")
  set(${result} "const unsigned char ${name}[] = {\n${bytes}0};\nconstexpr std::size_t ${name}_size = ${size};\n"
    PARENT_SCOPE)
endfunction()

bytes_of(${ENGINE} engine engine_bytes)
set(text "'use strict';\n(() => {\n\n")
string(REPLACE "," ";" parts "${PARTS}")
foreach(part ${parts})
  file(READ ${part} more)
  string(APPEND text "${more}\n")
endforeach()
file(WRITE ${OUT}.js "${text}})();\n")
bytes_of(${OUT}.js script script_bytes)
file(WRITE ${OUT} "// Made by src/live/embed.cmake.
#include \"live/page_parts.hpp\"

#include <cstddef>

namespace boxroom {
namespace {

${engine_bytes}
${script_bytes}
}  // namespace

std::string_view page_engine() {
    return {reinterpret_cast<const char*>(engine), engine_size};
}
std::string_view page_script() {
    return {reinterpret_cast<const char*>(script), script_size};
}

}  // namespace boxroom
")
