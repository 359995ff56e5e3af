# tinyobjloader: another reader of OBJ; a referee in tests and a peer in benchmarks. Debian: libtinyobjloader-dev 2.0.
# Licence: MIT.
find_package(tinyobjloader REQUIRED)
