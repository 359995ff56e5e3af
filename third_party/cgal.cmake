# CGAL: polygon mesh processing; a referee in tests only, in a program of its own, and left out where it is missing: its
# licence is GPL-3.0-or-later, ours is not. Debian: libcgal-dev 5.5, headers only. Its CMake package is not asked, since
# that brings a search module for Eigen along which hides Eigen's own targets.
find_path(CGAL_INCLUDE_DIR CGAL/Surface_mesh.h)
find_library(GMP_LIBRARY gmp)
find_library(MPFR_LIBRARY mpfr)
mark_as_advanced(CGAL_INCLUDE_DIR GMP_LIBRARY MPFR_LIBRARY)
if(CGAL_INCLUDE_DIR AND GMP_LIBRARY AND MPFR_LIBRARY)
  add_library(cgal INTERFACE IMPORTED)
  target_include_directories(cgal INTERFACE "${CGAL_INCLUDE_DIR}")
  target_link_libraries(cgal INTERFACE "${MPFR_LIBRARY}" "${GMP_LIBRARY}")
  target_compile_options(cgal INTERFACE -frounding-math) # its interval arithmetic changes the rounding
endif()
