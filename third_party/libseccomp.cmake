# libseccomp: the few system calls that a process which reads a mesh may make. Debian: libseccomp-dev 2.5. Licence: LGPL-2.1;
# linked dynamically. Without it such a process has its limits only.
find_package(PkgConfig REQUIRED)
pkg_check_modules(seccomp IMPORTED_TARGET GLOBAL libseccomp)
option(EVENCLOSE_SECCOMP "Filter the system calls of processes that read meshes, through libseccomp" ${seccomp_FOUND})
if(EVENCLOSE_SECCOMP AND NOT seccomp_FOUND)
  message(FATAL_ERROR "EVENCLOSE_SECCOMP is ON, but libseccomp (libseccomp-dev) was not found")
endif()
