// What README.md shows as documents can be pasted and read.
#include "scene/documents/setup_document.hpp"

#include "tests/places.hpp"
#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("the documents of the README are a set-up without a fault") {
    const std::string readme = bytes_of(fmt::format("{}/README.md", source_folder()));
    const TemporaryFolder folder;
    std::filesystem::path setup;
    std::size_t documents = 0;
    // Each stands behind its file's name in backquotes: **Press** `box.press.json`: ```json ... ```
    constexpr std::string_view fence = "```json\n";
    for (std::size_t at = readme.find(fence); at != std::string::npos; at = readme.find(fence, at + 1)) {
        const std::size_t name_end = readme.rfind(".json`", at);
        REQUIRE(name_end != std::string::npos);
        const std::size_t name = readme.rfind('`', name_end) + 1;
        const std::size_t end = readme.find("```", at + fence.size());
        REQUIRE(end != std::string::npos);
        const std::string text = readme.substr(at + fence.size(), end - at - fence.size());
        const std::filesystem::path file = folder.write(readme.substr(name, name_end + 5 - name), text);
        if (text.find("\"set-up\"") != std::string::npos) {
            setup = file;
        }
        ++documents;
    }
    CHECK(documents == 3);
    MeshShelf shelf{BoxImporter{}};
    const Loaded<Setup> loaded = read_setup(setup, shelf);
    CHECK_MESSAGE(loaded.value, all_sentences(loaded.faults));
}
