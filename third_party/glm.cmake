# GLM: vectors, matrices, quaternions. Debian: libglm-dev 0.9.9.8. Licence: MIT (or Happy Bunny).
find_package(glm 0.9.9 REQUIRED)
