#include "scene/mesh/apart/apart.hpp"
#include "viewer/cli/run.hpp"

#include <iostream>

int main(int argc, char** argv) {
    evenclose::start_reading_apart(argc, argv); // before anything else: it forks
    return evenclose::run({argv + 1, argv + argc}, std::cout, std::cerr);
}
