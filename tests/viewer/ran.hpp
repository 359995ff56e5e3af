// tests/viewer/ran.hpp: the program run within the test, with what it printed.
#pragma once

#include "tests/places.hpp"
#include "viewer/cli/run.hpp"

#include <sstream>
#include <string>
#include <vector>

namespace evenclose::test {

struct Ran {
    int exit = 0;
    std::string out, err;
};

inline Ran ran(const std::vector<std::string>& words) {
    std::ostringstream out;
    std::ostringstream err;
    const int exit = run(words, out, err);
    return {exit, out.str(), err.str()};
}

} // namespace evenclose::test
