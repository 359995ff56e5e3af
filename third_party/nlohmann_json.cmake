# nlohmann-json: reads and writes documents and --json. Debian: nlohmann-json3-dev 3.11. Licence: MIT.
find_package(nlohmann_json 3.11 REQUIRED)
