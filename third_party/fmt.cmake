# {fmt}: text formatting. Debian: libfmt-dev 9.1. Licence: MIT.
find_package(fmt 9 REQUIRED)
