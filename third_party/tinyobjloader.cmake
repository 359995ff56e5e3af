# tinyobjloader: reads OBJ. Debian: libtinyobjloader-dev 2.0. Licence: MIT.
find_package(tinyobjloader REQUIRED)
