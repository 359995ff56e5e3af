# FCL: distance of two meshes at a pose; a referee in tests and a peer in benchmarks. Debian: libfcl-dev 0.7. Licence: BSD-3-Clause.
find_package(fcl 0.7 REQUIRED)
