# pugixml: reads the XML of an SVG drawing. Debian: libpugixml-dev 1.13. Licence: MIT.
find_package(pugixml REQUIRED)
