# The schemas of assets/schemas are built into the program: the bench's fields and their words come from them. Sets
# EVENCLOSE_SCHEMA_SOURCE.
file(GLOB schema_files CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/assets/schemas/*.schema.json")
set(EVENCLOSE_SCHEMA_SOURCE "${CMAKE_CURRENT_BINARY_DIR}/schemas.cpp")
add_custom_command(
  OUTPUT "${EVENCLOSE_SCHEMA_SOURCE}"
  COMMAND "${CMAKE_COMMAND}" "-DFILES=${schema_files}" "-DOUTPUT=${EVENCLOSE_SCHEMA_SOURCE}"
          -P "${CMAKE_CURRENT_LIST_DIR}/embed_schemas.cmake"
  DEPENDS ${schema_files} "${CMAKE_CURRENT_LIST_DIR}/embed_schemas.cmake"
  COMMENT "Schemas into the program"
  VERBATIM)
