// Every target reads its corpus: seeds of our own, and what fuzzing found.
#include "tests/fuzz/targets.hpp"
#include "tests/places.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

using namespace evenclose::test;

TEST_CASE("fuzz: every target reads its corpus, and every beginning of it") {
    for (const FuzzTarget& target : fuzz_targets()) {
        CAPTURE(target.name);
        int read = 0;
        const std::filesystem::path corpus = std::filesystem::path(source_folder()) / "tests/fuzz/corpus" / target.name;
        for (const auto& entry : std::filesystem::directory_iterator(corpus)) {
            std::ifstream stream(entry.path(), std::ios::binary);
            const std::string bytes{std::istreambuf_iterator<char>(stream), {}};
            for (std::size_t size = 0; size <= bytes.size(); ++size) {
                target.read(std::string_view(bytes).substr(0, size)); // ends the test where a promise is broken
            }
            ++read;
        }
        CHECK(read > 0);
    }
}
