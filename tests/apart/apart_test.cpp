// A reader that crashes, hangs, bloats or lies, and what the program makes of it.
#include "scene/mesh/apart/apart.hpp"
#include "scene/mesh/import.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/sanitizer.hpp"
#include "tests/scene/mesh/imported.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <filesystem>
#include <string>
#include <thread>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr bool kLimitsHold = !kSanitized;

std::filesystem::path wicked(const Folder& folder, const std::string& what) {
    return folder.write("wicked.obj", "# do " + what + "\nv 0 0 0\nv 9 0 0\nv 0 9 0\nf 1 2 3\n");
}

ReadingLimits tight() {
    ReadingLimits limits;
    limits.memory_bytes = 64U << 20U;
    limits.answer_bytes = 8U << 20U;
    limits.cpu_s = 1;
    limits.wall_s = 300; // others may keep the machine busy
    return limits;
}

std::string why_apart(const Folder& folder, const std::string& what, const ReadingLimits& limits = tight()) {
    const auto opened = OpenFile::open(wicked(folder, what));
    REQUIRE(std::holds_alternative<OpenFile>(opened));
    const auto result =
        read_apart(std::get<OpenFile>(opened), MeshFormat::obj, files_beside(folder.path() / "x"), limits);
    const auto* not_read = std::get_if<NotRead>(&result);
    return not_read != nullptr ? not_read->why : "(read)";
}

constexpr const char* kDo = "nothing else was harmed; export it anew, best as binary STL";

} // namespace

TEST_CASE("apart: a reader that crashes is told with its file, and the next mesh is read") {
    REQUIRE(reads_apart());
    const Folder folder;
    if (kLimitsHold) {
        for (const char* what : {"crash", "recurse"}) {
            const std::string why = why_apart(folder, what);
            CAPTURE(what);
            CHECK(
                has(why, "made its reader crash (signal 11: Segmentation fault): it is broken, or made to do harm; "));
            CHECK(has(why, kDo));
        }
        CHECK(has(why_apart(folder, "abort"), "made its reader crash (signal "));
        CHECK(has(why_apart(folder, "swell"), "made its reader crash (signal 11: "));
    } else {
        CHECK(has(why_apart(folder, "crash"), "made its reader end without an answer"));
    }
    CHECK(has(why_apart(folder, "leave"), "made its reader end without an answer (0): it is broken"));
    CHECK(has(why_apart(folder, "killed"), "made its reader"));
    const ImportResult named = import_mesh(wicked(folder, "leave"));
    REQUIRE(std::holds_alternative<ImportFault>(named));
    CHECK(std::get<ImportFault>(named).file == (folder.path() / "wicked.obj").string());
    check_block(imported(folder.write("a.stl", binary_stl(block())), LengthUnit::mm));
}

TEST_CASE("apart: a reader that takes too long or too much is stopped") {
    const Folder folder;
    using Clock = std::chrono::steady_clock;
    const auto began = Clock::now();
    CHECK(has(why_apart(folder, "spin"), "takes more than 1 s of computing to read, and the reading was stopped; "));
    ReadingLimits brief = tight();
    brief.wall_s = 1;
    CHECK(has(why_apart(folder, "sleep", brief), "was not read within 1 s, and the reading was stopped; "));
    CHECK(Clock::now() - began < std::chrono::seconds(280)); // and none of them waits for the end of its time
    if (kLimitsHold) {
        CHECK(
            has(why_apart(folder, "bloat"), "takes more than 68 MB of memory to read, and the reading was stopped; "));
    }
    CHECK(has(why_apart(folder, "many"), "makes a mesh of more than 9 MB, or there is no memory for it; "));
}

TEST_CASE("apart: a reader that was taken over can do nothing but answer") {
    const Folder folder;
    const std::string went = why_apart(folder, "system");
    if (went == "no filter here") {
        MESSAGE("left out: system calls are not filtered here (a sanitizer, no libseccomp, or a system without)");
    } else {
        CHECK(went == "went: nothing");
    }
    CHECK(why_apart(folder, "threads") == "(read)"); // but libraries may use threads
    // It speaks for itself only: how it ended is the helper's to say.
    CHECK(why_apart(folder, "forge") == "(read)");
    CHECK(has(why_apart(folder, "no_answer"), "made its reader answer nothing"));
    CHECK(has(why_apart(folder, "other_memory"), "made its reader give an answer that is not sealed"));
}

TEST_CASE("apart: a file that becomes smaller while it is read is told") {
    const Folder folder;
    const auto file = wicked(folder, "shrunk");
    std::thread writer([&file] {
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
        std::filesystem::resize_file(file, 20);
    });
    const ImportResult result = import_mesh(file);
    writer.join();
    REQUIRE(std::holds_alternative<ImportFault>(result));
    CHECK(std::get<ImportFault>(result).why == kChangedWhileRead);
}

TEST_CASE("a mesh names files in its own folder and below, and no others") {
    const Folder folder;
    namespace fs = std::filesystem;
    fs::create_directories(folder.path() / "sub/deep");
    fs::create_directories(folder.path() / "outside");
    const Folder elsewhere;
    elsewhere.write("secret", "secret");
    folder.write("near", "near");
    folder.write("sub/deep/low", "low");
    folder.write("outside/other", "other");
    fs::create_symlink(elsewhere.path() / "secret", folder.path() / "sub/away");
    fs::create_symlink("../../outside/other", folder.path() / "sub/deep/up");
    fs::create_symlink("deep/low", folder.path() / "sub/down");
    fs::create_symlink(elsewhere.path(), folder.path() / "sub/door");
    fs::copy_file(wicked(folder, "beside deep/low down nowhere ../near /etc/hostname deep/../../near away door/secret "
                                 "deep/up deep"),
                  folder.path() / "sub/w.obj");
    const std::string rule = "a mesh file may name files in its own folder and below";
    const std::string link = "it is a link that leads elsewhere; " + rule;
    const ImportResult result = import_mesh(folder.path() / "sub/w.obj");
    REQUIRE(std::holds_alternative<ImportFault>(result));
    CHECK(std::get<ImportFault>(result).why == "[low][low](no such file)(" + rule + ")(" + rule + ")(" + rule + ")(" +
                                                   link + ")(" + link + ")(" + link +
                                                   ")(is a folder, not a mesh file)");
}

TEST_CASE("apart: meshes are read from several threads at once, broken ones among them") {
    const Folder folder;
    const auto good = folder.write("good.stl", binary_stl(torus_shape(60, 20, 40, 20)));
    const auto bad = wicked(folder, "leave");
    std::atomic<int> read = 0, refused = 0;
    std::vector<std::thread> threads;
    threads.reserve(6);
    for (int t = 0; t < 6; ++t) {
        threads.emplace_back([&, t] {
            for (int i = 0; i < 12; ++i) {
                const ImportResult result = import_mesh((i + t) % 3 == 0 ? bad : good, LengthUnit::mm);
                const auto* mesh = std::get_if<ImportedMesh>(&result);
                read += mesh != nullptr && mesh->mesh.triangles.size() == 1600 ? 1 : 0;
                refused += mesh == nullptr ? 1 : 0;
            }
        });
    }
    for (std::thread& thread : threads) {
        thread.join();
    }
    CHECK(read == 48);
    CHECK(refused == 24);
}

TEST_CASE("apart: a child is there within 20 ms") {
    const Folder folder;
    const auto file = folder.write("block.stl", binary_stl(block()));
    using Clock = std::chrono::steady_clock;
    std::vector<double> took_ms;
    for (int i = 0; i < 50; ++i) {
        const auto began = Clock::now();
        REQUIRE(std::holds_alternative<ImportedMesh>(import_mesh(file, LengthUnit::mm)));
        took_ms.push_back(std::chrono::duration<double, std::milli>(Clock::now() - began).count());
    }
    std::sort(took_ms.begin(), took_ms.end());
    MESSAGE("a block read apart, ms: least " << took_ms.front() << ", median " << took_ms[25]);
    CHECK(took_ms.front() < (kLimitsHold ? 20 : 200)); // the least: others may keep the machine busy
}
