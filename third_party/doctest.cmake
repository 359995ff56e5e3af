# doctest: unit tests. Debian: doctest-dev 2.4.9. Licence: MIT.
find_package(doctest 2.4.9 REQUIRED)
