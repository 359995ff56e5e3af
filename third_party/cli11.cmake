# CLI11: command line options. Debian: libcli11-dev 2.1. Licence: BSD-3-Clause.
find_package(CLI11 2.1 REQUIRED)
