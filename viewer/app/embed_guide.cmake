# Run as a script: writes FILE as a string into OUTPUT, behind viewer/app/guide.hpp.
file(READ "${FILE}" text)
string(LENGTH "${text}" length)
set(literal "")
set(at 0)
while(at LESS length) # in pieces, see embed_schemas.cmake
  string(SUBSTRING "${text}" ${at} 12000 piece)
  string(APPEND literal "        R\"guide(${piece})guide\"\n")
  math(EXPR at "${at} + 12000")
endwhile()
file(WRITE "${OUTPUT}" "// Made from assets/guide/window.md by viewer/app/embed_guide.cmake; edit that.
#include \"viewer/app/guide.hpp\"

namespace evenclose {

std::string_view guide_text() {
    return
${literal};
}

} // namespace evenclose
")
