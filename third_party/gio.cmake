# GIO: the desktop's own file dialog is asked for over D-Bus. Debian: libglib2.0-dev 2.74. Licence: LGPL-2.1; linked dynamically.
find_package(PkgConfig REQUIRED)
pkg_check_modules(gio REQUIRED IMPORTED_TARGET GLOBAL gio-2.0)
