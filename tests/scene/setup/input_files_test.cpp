#include "scene/setup/input_files.hpp"

#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>

namespace evenclose {

TEST_CASE("input files: each once, in the order of reading, with the SHA-256 of FIPS 180-4's examples") {
    const test::TemporaryFolder folder;
    folder.write("a.set-up.json", "abc");
    folder.write("b.mold.json", "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq");
    folder.write("lower.stl", "");

    auto mold = std::make_shared<Mold>();
    mold->file = (folder.path() / "b.mold.json").string();
    mold->lower.shape = MeshHalf{"lower.stl", {}, {}, 0, false};
    mold->upper.shape = MeshHalf{"./lower.stl", {}, {}, 0, true}; // the same file by another spelling
    auto press = std::make_shared<Press>();
    press->file = (folder.path() / "gone.press.json").string();
    Setup setup;
    setup.file = (folder.path() / "a.set-up.json").string();
    setup.press = press;
    setup.openings = {Opening{"b.mold.json", mold, {}, 0}, Opening{"b.mold.json", mold, {}, 0}};

    const std::vector<InputFile> files = input_files(setup);
    REQUIRE(files.size() == 4);
    CHECK(files[0].what == "set-up");
    CHECK(files[0].bytes == 3);
    CHECK(files[0].sha256 == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(files[1].what == "press");
    CHECK(files[1].sha256.empty()); // it is not there any more
    CHECK(files[2].sha256 == "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(files[3].what == "lower half");
    CHECK(files[3].sha256 == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

} // namespace evenclose
