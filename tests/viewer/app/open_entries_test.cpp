#include "viewer/app/open_entries.hpp"

#include "tests/viewer/window/screen.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

using namespace evenclose;
namespace fs = std::filesystem;

namespace {

std::vector<std::string> names(const std::string& typed) {
    std::vector<std::string> all;
    for (const FolderEntry& entry : matching_entries(typed)) {
        all.push_back(entry.name);
    }
    return all;
}

using Names = std::vector<std::string>;

} // namespace

TEST_CASE("folders, then set-ups, then other documents, narrowed by what is typed, hidden ones on asking") {
    test::TestFolder folder;
    const fs::path& at = folder.path();
    fs::create_directory(at / "molds");
    for (const char* name : {"b.set-up.json", "a.press.json", "oak.set-up.json", "notes.txt", ".hidden.json"}) {
        std::ofstream(at / name) << "{}";
    }
    const std::string there = at.string() + "/";
    CHECK(names(there) == Names{"../", "molds/", "b.set-up.json", "oak.set-up.json", "a.press.json"});
    CHECK(names(there + "o") == Names{"oak.set-up.json"});
    CHECK(names(there + ".h") == Names{".hidden.json"});
    CHECK(names(there + "zz").empty());
    CHECK(names(there + "molds/") == Names{"../"});
    CHECK(names("/no/such/folder/").size() <= 1);
    CHECK(!names("/").empty());
    CHECK(names("/").front() != "../");
}

TEST_CASE("a whole path typed behind the folder that was there begins anew, ~ is home") {
    CHECK(typed_path("/shop/press//tmp/a.json") == fs::path("/tmp/a.json"));
    CHECK(typed_path("/shop/a.json") == fs::path("/shop/a.json"));
    CHECK(typed_path("a.json") == fs::path("a.json"));
    if (const char* home = std::getenv("HOME")) {
        CHECK(typed_path("~/a.json") == fs::path(home) / "a.json");
        CHECK(typed_path("/shop/~/a.json") == fs::path(home) / "a.json");
    }
}
