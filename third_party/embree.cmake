# Embree: closest hit of a ray with a mesh (picking, where to look from). Debian: libembree-dev 3.13. Licence: Apache-2.0.
find_package(embree 3.13 REQUIRED)
