# pugixml: reads the XML of an SVG drawing; in tests also reports and our own drawings. Debian: libpugixml-dev 1.13. Licence: MIT.
find_package(pugixml REQUIRED)
