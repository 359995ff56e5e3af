# spdlog: log lines of the window (never of checks). Debian: libspdlog-dev 1.10. Licence: MIT.
find_package(spdlog 1.10 REQUIRED)
