# oneTBB: parallel work with an answer that does not depend on the thread count. Debian: libtbb-dev 2021.8. Licence: Apache-2.0.
find_package(TBB 2021.8 REQUIRED)
