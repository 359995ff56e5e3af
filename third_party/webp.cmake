# libwebp with libwebpmux: the turn round a press, or its stroke, as one moving file. Debian: libwebp-dev 1.2. Licence: BSD-3-Clause.
find_package(PkgConfig REQUIRED)
pkg_check_modules(webp REQUIRED IMPORTED_TARGET GLOBAL libwebp libwebpmux)
