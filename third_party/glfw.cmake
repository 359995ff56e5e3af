# GLFW: the window, keys and mouse. Debian: libglfw3-dev 3.3. Licence: Zlib.
find_package(glfw3 3.3 REQUIRED)
