// The helper is killed, between readings and amid one, or hangs: the next one takes its place.
#include "scene/mesh/apart/apart.hpp"
#include "scene/mesh/apart/sanitized.hpp"
#include "scene/mesh/import.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/processes.hpp"
#include "tests/scene/mesh/imported.hpp"

#include <doctest/doctest.h>

#include <sys/types.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;
using namespace std::chrono_literals;

namespace {

namespace fs = std::filesystem;

pid_t waited_for(pid_t parent, const char* name, pid_t other_than = 0) {
    for (int tries = 0; tries < 6000; ++tries) {
        for (const Process& process : children_of(parent, name)) {
            if (process.state != 'Z' && process.id != other_than) {
                return process.id;
            }
        }
        std::this_thread::sleep_for(5ms);
    }
    throw std::runtime_error(std::string("waited in vain for ") + name);
}

pid_t helper(pid_t other_than = 0) { return waited_for(::getpid(), "evenclose-apart", other_than); }

} // namespace

TEST_CASE("helper: killed between two readings, another takes its place and none is left behind") {
    const Folder folder;
    const auto file = folder.write("block.stl", binary_stl(block()));
    for (int time = 0; time < 5; ++time) {
        const pid_t before = helper();
        REQUIRE(::kill(before, SIGKILL) == 0);
        check_block(imported(file, LengthUnit::mm));
        CHECK(helper() != before);
        CHECK(children_of(::getpid(), "evenclose-apart").size() == 1); // the one before was waited for
    }
    CHECK(reads_apart());
}

TEST_CASE("helper: killed amid a reading, the file is read once more, and what read it is gone") {
    const Folder folder;
    const auto file = folder.write("slow.obj", "# do wait\n");
    const pid_t first = helper();
    std::atomic<bool> refused = true;
    std::thread reading([&] { refused = std::holds_alternative<ImportFault>(import_mesh(file, LengthUnit::mm)); });
    const pid_t child = waited_for(first, "evenclose-mesh");
    ::kill(first, SIGKILL);
    const pid_t second = helper(first);
    static_cast<void>(waited_for(second, "evenclose-mesh"));
    for (int tries = 0; tries < 2000 && ::kill(child, 0) == 0; ++tries) {
        std::this_thread::sleep_for(5ms);
    }
    CHECK(::kill(child, 0) != 0);
    // It may go on. A file that was written into meanwhile is refused; this one looks as if it was not.
    const fs::file_time_type written = fs::last_write_time(file);
    std::fstream(file, std::ios::in | std::ios::out) << '!';
    fs::last_write_time(file, written);
    reading.join();
    CHECK_FALSE(refused);
}

TEST_CASE("helper: a file amid which it ends again and again is refused, and the next mesh is read") {
    const Folder folder;
    const auto opened = OpenFile::open(folder.write("slow.obj", "# do wait\n"));
    REQUIRE(std::holds_alternative<OpenFile>(opened));
    std::string why;
    std::thread reading([&] {
        const auto result = read_apart(std::get<OpenFile>(opened), MeshFormat::obj, files_beside(folder.path() / "x"));
        why = std::holds_alternative<NotRead>(result) ? std::get<NotRead>(result).why : "(read)";
    });
    pid_t id = 0;
    for (int time = 0; time < 3; ++time) {
        id = helper(id);
        static_cast<void>(waited_for(id, "evenclose-mesh"));
        ::kill(id, SIGKILL);
    }
    reading.join();
    CHECK(why == "made the process that reads meshes end, 3 times: it is broken, or made to do harm; nothing else was "
                 "harmed; export it anew, best as binary STL");
    check_block(imported(folder.write("a.stl", binary_stl(block())), LengthUnit::mm));
}

TEST_CASE("helper: one that hangs is given up, and another takes its place") {
    const Folder folder;
    const auto opened = OpenFile::open(folder.write("a.stl", binary_stl(block())));
    REQUIRE(std::holds_alternative<OpenFile>(opened));
    const pid_t before = helper();
    ::kill(before, SIGSTOP);
    ReadingLimits limits = reading_limits(MeshFormat::stl_binary, 1000);
    limits.wall_s = 0;
    limits.grace_s = 1;
    const auto result = read_apart(std::get<OpenFile>(opened), MeshFormat::stl_binary, files_beside("x"), limits);
    REQUIRE(std::holds_alternative<NotRead>(result));
    CHECK(has(std::get<NotRead>(result).why, "was not read within 0 s, and the reading was stopped; "));
    check_block(imported(folder.path() / "a.stl", LengthUnit::mm));
    CHECK(helper() != before);
    CHECK(children_of(::getpid(), "evenclose-apart").size() == 1);
}

TEST_CASE("helper: killed again and again under six threads that read, no mesh is lost") {
    const Folder folder;
    const auto good = folder.write("good.stl", binary_stl(torus_shape(60, 20, 40, 20)));
    std::atomic<int> asked = 0, read = 0, killed = 0;
    std::vector<std::thread> threads;
    threads.reserve(6);
    for (int t = 0; t < 6; ++t) {
        threads.emplace_back([&] {
            while (killed < 4) {
                ++asked;
                const ImportResult result = import_mesh(good, LengthUnit::mm);
                const auto* mesh = std::get_if<ImportedMesh>(&result);
                read += mesh != nullptr && mesh->mesh.triangles.size() == 1600 ? 1 : 0;
            }
        });
    }
    for (pid_t last = 0; killed < 4; ++killed) {
        last = helper(last);
        std::this_thread::sleep_for(kSanitized ? 3s : 800ms); // so seldom that no reading meets three
        ::kill(last, SIGKILL);
    }
    for (std::thread& thread : threads) {
        thread.join();
    }
    CHECK(read == asked);
    CHECK(asked > 30);
}
