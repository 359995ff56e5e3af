# Dear ImGui: panels and text of the window; GLFW and OpenGL 3 back ends included. Debian: libimgui-dev 1.86. Licence: MIT.
find_package(PkgConfig REQUIRED)
pkg_check_modules(imgui REQUIRED IMPORTED_TARGET GLOBAL imgui)
