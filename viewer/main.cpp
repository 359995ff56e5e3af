#include "viewer/cli/run.hpp"

#include <iostream>

int main(int argc, char** argv) { return evenclose::run({argv + 1, argv + argc}, std::cout, std::cerr); }
