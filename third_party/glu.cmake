# GLU: its tessellator closes the cut faces of print pieces. Debian: libglu1-mesa-dev 9.0. Licence: SGI-B-2.0.
find_package(PkgConfig REQUIRED)
pkg_check_modules(glu REQUIRED IMPORTED_TARGET GLOBAL glu)
