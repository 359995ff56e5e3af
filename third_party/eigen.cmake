# Eigen: linear algebra (plane through jack heads, best planes). Debian: libeigen3-dev 3.4. Licence: MPL-2.0.
find_package(Eigen3 3.4 REQUIRED)
