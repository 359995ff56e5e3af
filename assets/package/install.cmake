# What is put where on a system: the program and its papers (component `program`), and scene and checks as a CMake package
# (component `library`). `cpack` in the build folder makes Debian packages of the two.
include(GNUInstallDirs)
set(package_folder "${PROJECT_SOURCE_DIR}/assets/package")

install(TARGETS evenclose RUNTIME COMPONENT program)
install(FILES "${package_folder}/evenclose.1" DESTINATION "${CMAKE_INSTALL_MANDIR}/man1" COMPONENT program)
install(FILES "${package_folder}/evenclose.desktop" DESTINATION "${CMAKE_INSTALL_DATADIR}/applications" COMPONENT program)
install(FILES "${package_folder}/evenclose.svg"
  DESTINATION "${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps" COMPONENT program)
install(FILES "${package_folder}/evenclose.mime.xml" DESTINATION "${CMAKE_INSTALL_DATADIR}/mime/packages"
  RENAME evenclose.xml COMPONENT program)
install(FILES "${package_folder}/evenclose.bash" DESTINATION "${CMAKE_INSTALL_DATADIR}/bash-completion/completions"
  RENAME evenclose COMPONENT program)
install(FILES "${package_folder}/_evenclose" DESTINATION "${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions" COMPONENT program)
install(FILES "${package_folder}/evenclose.fish" DESTINATION "${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d"
  COMPONENT program)
install(DIRECTORY "${PROJECT_SOURCE_DIR}/assets/schemas/" DESTINATION "${CMAKE_INSTALL_DATADIR}/evenclose/schemas"
  COMPONENT program FILES_MATCHING PATTERN "*.json")
install(DIRECTORY "${CMAKE_BINARY_DIR}/demo/" DESTINATION "${CMAKE_INSTALL_DATADIR}/evenclose/demo"
  COMPONENT program FILES_MATCHING PATTERN "*.json" PATTERN "*.stl")
install(FILES "${PROJECT_SOURCE_DIR}/README.md" "${PROJECT_SOURCE_DIR}/assets/window.png" DESTINATION "${CMAKE_INSTALL_DOCDIR}"
  COMPONENT program)

# The library: headers as they stand in the source, so that an include reads the same inside and outside the house.
install(TARGETS evenclose_scene evenclose_checks EXPORT evenclose ARCHIVE COMPONENT library)
install(DIRECTORY "${PROJECT_SOURCE_DIR}/scene" "${PROJECT_SOURCE_DIR}/checks"
  DESTINATION "${CMAKE_INSTALL_INCLUDEDIR}/evenclose" COMPONENT library FILES_MATCHING PATTERN "*.hpp")
install(EXPORT evenclose FILE evencloseTargets.cmake NAMESPACE evenclose::
  DESTINATION "${CMAKE_INSTALL_LIBDIR}/cmake/evenclose" COMPONENT library)
include(CMakePackageConfigHelpers)
write_basic_package_version_file("${CMAKE_CURRENT_BINARY_DIR}/evencloseConfigVersion.cmake" COMPATIBILITY SameMinorVersion)
configure_file("${package_folder}/evencloseConfig.cmake" "${CMAKE_CURRENT_BINARY_DIR}/evencloseConfig.cmake" @ONLY)
install(FILES "${CMAKE_CURRENT_BINARY_DIR}/evencloseConfig.cmake" "${CMAKE_CURRENT_BINARY_DIR}/evencloseConfigVersion.cmake"
  DESTINATION "${CMAKE_INSTALL_LIBDIR}/cmake/evenclose" COMPONENT library)

# Debian policy 12.5 and 12.7: copyright and changelog of each package.
find_program(GZIP gzip)
set_property(DIRECTORY "${PROJECT_SOURCE_DIR}" APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${package_folder}/CHANGELOG.md")
foreach(package evenclose libevenclose-dev)
  set(component program)
  if(package STREQUAL libevenclose-dev)
    set(component library)
  endif()
  install(FILES "${package_folder}/copyright" DESTINATION "${CMAKE_INSTALL_DATADIR}/doc/${package}" COMPONENT ${component})
  if(GZIP)
    set(packed "${CMAKE_CURRENT_BINARY_DIR}/changelog.gz")
    execute_process(COMMAND "${GZIP}" -9nc "${package_folder}/CHANGELOG.md" OUTPUT_FILE "${packed}")
    install(FILES "${packed}" DESTINATION "${CMAKE_INSTALL_DATADIR}/doc/${package}" COMPONENT ${component})
  endif()
endforeach()

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME evenclose)
set(CPACK_PACKAGE_VENDOR Evenclose)
set(CPACK_PACKAGE_CONTACT "The Evenclose founders <founders@evenclose.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "checks a laminating press and its mold before timber is cut")
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "Shows a shop's own press in 3D, moves the stroke and computes whether a mold fits
and slides in, whether anything fouls on the way, how evenly the cavity closes,
what the frame bends and what pressure the glue gets; says go, marginal or no-go
with a number, a place and a remedy.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME evenclose)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS "fonts-open-sans, libegl1, libgl1")
set(CPACK_DEBIAN_PROGRAM_PACKAGE_RECOMMENDS "libgl1-mesa-dri, libegl-mesa0, fonts-dejavu-core")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libevenclose-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARY_DESCRIPTION "Static libraries, headers and the CMake package evenclose: certified clearance of
two bodies over a whole travel and a whole tilt envelope, and the checks of a
laminating press.")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS
  "libglm-dev, libfmt-dev, nlohmann-json3-dev, libassimp-dev, libpugixml-dev, libminizip-dev, libmd-dev, libtbb-dev, libeigen3-dev, libembree-dev, libocct-data-exchange-dev, libseccomp-dev, pkg-config")
include(CPack)
