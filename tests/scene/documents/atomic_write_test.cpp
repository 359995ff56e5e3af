#include "scene/documents/atomic_write.hpp"

#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <functional>
#include <random>
#include <string>
#include <thread>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

namespace fs = std::filesystem;

mode_t mode_of(const fs::path& file) {
    struct stat status {};
    REQUIRE(::stat(file.c_str(), &status) == 0);
    return status.st_mode & 07777U;
}

std::size_t files_in(const fs::path& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator{folder}, fs::directory_iterator{}));
}

/// What `work` says in a process of its own, so that rights and limits given up there do not bind the tests.
std::string in_child(const std::function<std::string()>& work) {
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        const std::string said = work();
        const bool sent = ::write(ends[1], said.data(), said.size()) == static_cast<ssize_t>(said.size());
        ::_exit(sent ? 0 : 1);
    }
    ::close(ends[1]);
    std::string said;
    char block[4096];
    for (ssize_t n = 0; (n = ::read(ends[0], block, sizeof block)) > 0;) {
        said.append(block, static_cast<std::size_t>(n));
    }
    ::close(ends[0]);
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 0);
    return said;
}

/// Root may write everywhere; the tests of rights need somebody who may not.
void become_nobody() {
    if (::geteuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) {
        ::_exit(2);
    }
}

} // namespace

TEST_CASE("a new file gets the mode of any new file, an old one keeps its own, nothing is left beside them") {
    const TemporaryFolder folder;
    const fs::path file = folder.path() / "a.json";
    const mode_t mask = ::umask(027);
    CHECK_FALSE(write_file_atomically(file, "one").has_value());
    ::umask(mask);
    CHECK(bytes_of(file) == "one");
    CHECK(mode_of(file) == 0640);
    REQUIRE(::chmod(file.c_str(), 0604) == 0);
    CHECK_FALSE(write_file_atomically(file, std::string(3'000'000, 'x')).has_value());
    CHECK(bytes_of(file) == std::string(3'000'000, 'x'));
    CHECK(mode_of(file) == 0604);
    CHECK_FALSE(write_file_atomically(file, "").has_value());
    CHECK(bytes_of(file).empty());
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("a name of the current folder, and one as long as names may be") {
    const TemporaryFolder folder;
    const fs::path before = fs::current_path();
    fs::current_path(folder.path());
    CHECK_FALSE(write_file_atomically("plain.json", "here").has_value());
    CHECK_FALSE(write_file_atomically(std::string(255, 'n'), "long").has_value());
    fs::current_path(before);
    CHECK(bytes_of(folder.path() / "plain.json") == "here");
    CHECK(bytes_of(folder.path() / std::string(255, 'n')) == "long");
}

TEST_CASE("a symbolic link stays one, and what it leads to is written") {
    const TemporaryFolder folder;
    const fs::path real = folder.write("real/a.json", "old");
    const fs::path link = folder.path() / "link.json";
    fs::create_symlink("real/a.json", link);
    CHECK_FALSE(write_file_atomically(link, "new").has_value());
    CHECK(fs::is_symlink(link));
    CHECK(bytes_of(real) == "new");
    fs::create_symlink("circle.json", folder.path() / "circle.json");
    CHECK(write_file_atomically(folder.path() / "circle.json", "x").has_value());
}

TEST_CASE("places where no file can be written are told, one clear line each") {
    const TemporaryFolder folder;
    const std::string here = folder.path().string();
    CHECK(write_file_atomically(folder.path() / "none" / "a.json", "x") ==
          here + "/none/a.json: there is no folder " + here + "/none");
    CHECK(write_file_atomically(folder.path(), "x") == here + ": is a folder or device, no file; nothing was written");
    CHECK(write_file_atomically("/dev/null", "x") == "/dev/null: is a folder or device, no file; nothing was written");
    const std::string too_long = (folder.path() / std::string(300, 'n')).string();
    CHECK(write_file_atomically(too_long, "x").has_value());
    CHECK(files_in(folder.path()) == 0);
}

TEST_CASE("a folder or a file that may not be written: the file stays as it was") {
    const TemporaryFolder folder;
    const fs::path file = folder.write("a.json", "old");
    REQUIRE(::chmod(file.c_str(), 0666) == 0);
    REQUIRE(::chmod(folder.path().c_str(), 0555) == 0);
    const std::string here = folder.path().string();
    CHECK(in_child([&] {
              become_nobody();
              return write_file_atomically(file, "new").value_or("no fault");
          }) == here + "/a.json: cannot write in the folder " + here +
                    ": this user may not write there; the file is as it was");
    CHECK(bytes_of(file) == "old");

    REQUIRE(::chmod(folder.path().c_str(), 0777) == 0);
    REQUIRE(::chmod(file.c_str(), 0444) == 0);
    CHECK(in_child([&] {
              become_nobody();
              return write_file_atomically(file, "new").value_or("no fault");
          }) == here + "/a.json: is write-protected: this user may not write there; the file is as it was");
    CHECK(bytes_of(file) == "old");
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("no room for the new file: the old one stays and nothing is left beside it") {
    const TemporaryFolder folder;
    const fs::path file = folder.write("a.json", "old");
    const std::string here = folder.path().string();
    const std::string large(1'000'000, 'x');
    CHECK(in_child([&] {
              ::signal(SIGXFSZ, SIG_IGN);
              const rlimit small{100'000, 100'000};
              if (::setrlimit(RLIMIT_FSIZE, &small) != 0) {
                  return std::string{"no limit could be set"};
              }
              return write_file_atomically(file, large).value_or("no fault");
          }) == here + "/a.json: cannot be written: the file would be larger than allowed; the file is as it was");
    CHECK(bytes_of(file) == "old");
    CHECK(files_in(folder.path()) == 1);

    // A disk of 64 kB of our own, where we may have one.
    const std::string said = in_child([&] {
        if (::unshare(CLONE_NEWNS | (::geteuid() == 0 ? 0 : CLONE_NEWUSER)) != 0 ||
            ::mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0 ||
            ::mount("tmpfs", folder.path().c_str(), "tmpfs", 0, "size=64k") != 0) {
            return std::string{"no disk"};
        }
        folder.write("a.json", "old");
        std::string fault = write_file_atomically(file, large).value_or("no fault");
        return fault + (bytes_of(file) == "old" && files_in(folder.path()) == 1 ? ", true" : ", false");
    });
    if (said == "no disk") {
        MESSAGE("a full disk was not tried: this user may not mount one");
    } else {
        CHECK(said == here + "/a.json: cannot be written: the disk is full; the file is as it was, true");
    }
}

TEST_CASE("a write that fails at whichever byte: told, the old file stays and nothing is left beside it") {
    const TemporaryFolder folder;
    const fs::path file = folder.write("a.json", "old");
    std::string text;
    for (int i = 0; i < 60; ++i) {
        text += std::to_string(i) + ' ';
    }
    // One child tries them all: the soft limit may be raised again.
    const std::string said = in_child([&] {
        ::signal(SIGXFSZ, SIG_IGN);
        std::string wrong;
        for (rlim_t bytes = 0; bytes <= text.size(); ++bytes) {
            const rlimit room{bytes, RLIM_INFINITY};
            ::setrlimit(RLIMIT_FSIZE, &room);
            const std::string fault = write_file_atomically(file, text).value_or("no fault");
            const bool whole = bytes == text.size();
            if ((fault == "no fault") != whole || bytes_of(file) != (whole ? text : "old") ||
                files_in(folder.path()) != 1) {
                wrong += " " + std::to_string(bytes) + ": " + fault;
            }
        }
        return "wrong:" + wrong;
    });
    CHECK(said == "wrong:");
    CHECK(bytes_of(file) == text);
}

TEST_CASE("killed at any moment, the file is the old one or the new one") {
    const TemporaryFolder folder;
    const std::string first(300'000, 'a');
    const std::string second(500'000, 'b');
    const fs::path file = folder.write("a.json", first);
    std::mt19937 random(4711);
    std::uniform_int_distribution<int> wait_us(0, 20'000);
    std::size_t seconds = 0;
    for (int round = 0; round < 25; ++round) {
        const pid_t child = ::fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            for (;;) {
                static_cast<void>(write_file_atomically(file, second));
                static_cast<void>(write_file_atomically(file, first));
            }
        }
        std::this_thread::sleep_for(std::chrono::microseconds(wait_us(random)));
        ::kill(child, SIGKILL);
        ::waitpid(child, nullptr, 0);
        const std::string now = bytes_of(file);
        CAPTURE(now.size());
        CHECK((now == first || now == second));
        seconds += now == second ? 1 : 0;
    }
    CHECK(seconds > 0);                                          // it did write
    CHECK_FALSE(write_file_atomically(file, "end").has_value()); // what the killed ones left is not in the way
    CHECK(bytes_of(file) == "end");
}

TEST_CASE("two threads that write the same file: one of the two comes out whole") {
    const TemporaryFolder folder;
    const fs::path file = folder.path() / "a.json";
    std::vector<std::thread> threads;
    for (const char letter : {'a', 'b', 'c'}) {
        threads.emplace_back([&file, letter] {
            for (int i = 0; i < 20; ++i) {
                static_cast<void>(write_file_atomically(file, std::string(100'000, letter)));
            }
        });
    }
    for (std::thread& thread : threads) {
        thread.join();
    }
    const std::string now = bytes_of(file);
    REQUIRE(now.size() == 100'000);
    CHECK(now == std::string(100'000, now.front()));
    CHECK(files_in(folder.path()) == 1);
}
