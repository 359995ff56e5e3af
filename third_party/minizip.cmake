# minizip: reads the unit out of a 3MF package. Debian: libminizip-dev 1.1. Licence: Zlib.
find_package(PkgConfig REQUIRED)
pkg_check_modules(minizip REQUIRED IMPORTED_TARGET GLOBAL minizip)
