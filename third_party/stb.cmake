# stb: writes and reads PNG. Debian: libstb-dev (2022-09-08). Licence: MIT or public domain.
find_package(PkgConfig REQUIRED)
pkg_check_modules(stb REQUIRED IMPORTED_TARGET GLOBAL stb)
