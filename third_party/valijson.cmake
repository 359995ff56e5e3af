# valijson: validates documents and --json against our JSON Schemas (in tests). Debian: libvalijson-dev 0.7. Licence: BSD-2-Clause.
find_package(valijson REQUIRED)
