# Cairo, Pango and librsvg: the report as PDF: pages, wrapped text, diagrams. Debian: libcairo2-dev 1.16, libpango1.0-dev 1.50,
# librsvg2-dev 2.54. Licences: LGPL-2.1 or MPL-1.1 (Cairo), LGPL-2.0 or later (Pango), LGPL-2.1 or later (librsvg); linked
# dynamically.
find_package(PkgConfig REQUIRED)
pkg_check_modules(pdf REQUIRED IMPORTED_TARGET GLOBAL cairo-pdf pangocairo librsvg-2.0)
