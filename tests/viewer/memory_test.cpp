// The program itself with too little memory: it says so and ends as for an input that cannot be used.
#include "scene/mesh/apart/sanitized.hpp"
#include "tests/places.hpp"
#include "tests/viewer/ran.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("memory: what does not suffice for a check is told, and nothing aborts") {
    if (kSanitized) {
        MESSAGE("left out: a sanitizer's own memory is beyond any limit");
        return;
    }
    int told = 0;
    for (int megabytes = 20; megabytes <= 220; megabytes += 40) {
        // From where nothing fits to where some of it does.
        const std::string words = fmt::format("prlimit --core=0 --data={} '{}/evenclose' check '{}' --jobs 2 2>&1",
                                              megabytes << 20, build_folder(), demo("crescent.set-up.json"));
        FILE* program = ::popen(words.c_str(), "r");
        REQUIRE(program != nullptr);
        std::string said;
        std::array<char, 4096> piece{};
        for (std::size_t got = 0; (got = std::fread(piece.data(), 1, piece.size(), program)) > 0;) {
            said.append(piece.data(), got);
        }
        const int status = ::pclose(program);
        CAPTURE(megabytes);
        CAPTURE(said);
        REQUIRE(WIFEXITED(status));
        CHECK(WEXITSTATUS(status) <= 2);
        CHECK(said.find("terminate called") == std::string::npos);
        if (WEXITSTATUS(status) == 2) {
            CHECK((said.find("memory") != std::string::npos || said.find("evenclose: stopped: ") != std::string::npos));
            ++told;
        }
    }
    CHECK(told > 0);
}
