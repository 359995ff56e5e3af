# epoxy: loads OpenGL and EGL functions. Debian: libepoxy-dev 1.5. Licence: MIT.
find_package(PkgConfig REQUIRED)
pkg_check_modules(epoxy REQUIRED IMPORTED_TARGET GLOBAL epoxy)
