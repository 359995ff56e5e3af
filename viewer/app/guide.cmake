# The guide that the window shows is built into the program. Sets EVENCLOSE_GUIDE_SOURCE.
set(guide_file "${PROJECT_SOURCE_DIR}/assets/guide/window.md")
set(EVENCLOSE_GUIDE_SOURCE "${CMAKE_CURRENT_BINARY_DIR}/guide.cpp")
add_custom_command(
  OUTPUT "${EVENCLOSE_GUIDE_SOURCE}"
  COMMAND "${CMAKE_COMMAND}" "-DFILE=${guide_file}" "-DOUTPUT=${EVENCLOSE_GUIDE_SOURCE}"
          -P "${CMAKE_CURRENT_LIST_DIR}/embed_guide.cmake"
  DEPENDS "${guide_file}" "${CMAKE_CURRENT_LIST_DIR}/embed_guide.cmake"
  COMMENT "The guide into the program"
  VERBATIM)
