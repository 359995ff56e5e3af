# libmd: SHA-256 of the files that a report was made from. Debian: libmd-dev 1.0. Licence: BSD-2-Clause, BSD-3-Clause, ISC.
find_package(PkgConfig REQUIRED)
pkg_check_modules(libmd REQUIRED IMPORTED_TARGET GLOBAL libmd)
