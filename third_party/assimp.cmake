# Assimp: reads 3MF, glTF and GLB. Debian: libassimp-dev 5.2. Licence: BSD-3-Clause.
find_package(assimp 5.2 REQUIRED)
