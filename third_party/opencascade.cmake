# OpenCASCADE: reads STEP. Debian: libocct-data-exchange-dev 7.6. Licence: LGPL-2.1 with exception; linked dynamically.
# Without it the program is whole but for STEP files.
find_package(OpenCASCADE QUIET) # its version file takes 7.6.3 only for 7.6.3
option(EVENCLOSE_STEP "Read STEP files, through OpenCASCADE" ${OpenCASCADE_FOUND})
if(EVENCLOSE_STEP AND NOT OpenCASCADE_FOUND)
  message(FATAL_ERROR "EVENCLOSE_STEP is ON, but OpenCASCADE (libocct-data-exchange-dev) was not found")
endif()
