// The suites here read meshes by a process of their own, as the program does; a reader that misbehaves on request stands
// before the real one.
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include "scene/mesh/apart/apart.hpp"
#include "tests/apart/wicked_reader.hpp"

int main(int argc, char** argv) {
    if (!evenclose::start_reading_apart(argc, argv, evenclose::test::wicked_reader)) {
        return 1;
    }
    return doctest::Context(argc, argv).run();
}
