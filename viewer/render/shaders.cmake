# The shaders of assets/shaders are built into the program, so that it runs from anywhere. Sets EVENCLOSE_SHADER_SOURCE.
file(GLOB shader_files CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/assets/shaders/*.glsl")
set(EVENCLOSE_SHADER_SOURCE "${CMAKE_CURRENT_BINARY_DIR}/shaders.cpp")
add_custom_command(
  OUTPUT "${EVENCLOSE_SHADER_SOURCE}"
  COMMAND "${CMAKE_COMMAND}" "-DFILES=${shader_files}" "-DOUTPUT=${EVENCLOSE_SHADER_SOURCE}"
          -P "${CMAKE_CURRENT_LIST_DIR}/embed_shaders.cmake"
  DEPENDS ${shader_files} "${CMAKE_CURRENT_LIST_DIR}/embed_shaders.cmake"
  COMMENT "Shaders into the program"
  VERBATIM)
