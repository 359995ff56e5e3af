// Files that a mesh names, with the system call that keeps a path below a folder and where there is none such.
#include "scene/mesh/formats/files_beside.hpp"
#include "tests/scene/mesh/imported.hpp"

#include <doctest/doctest.h>

#include <linux/filter.h>
#include <linux/seccomp.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

namespace fs = std::filesystem;

/// For good. False where the system lets nobody filter.
bool refuse_openat2(int error) {
    std::array<sock_filter, 4> program{{
        BPF_STMT(BPF_LD | BPF_W | BPF_ABS, offsetof(seccomp_data, nr)),
        BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_openat2, 0, 1),
        BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ERRNO | static_cast<unsigned>(error)),
        BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW),
    }};
    const sock_fprog filter{program.size(), program.data()};
    return ::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 &&
           ::prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &filter, 0, 0) == 0;
}

std::string came(const FilesBeside& beside, const std::string& name) {
    auto opened = beside(name);
    if (const auto* why = std::get_if<std::string>(&opened)) {
        return *why;
    }
    const auto text = whole(std::get<OpenFile>(opened));
    return text ? "[" + std::string(text->view()) + "]" : "cut";
}

/// Each answer on a line, from a process of its own to which openat2 says `error`; empty where nothing can be filtered.
std::string answers_without(int error, const fs::path& mesh, const std::vector<std::string>& names) {
    std::array<int, 2> ends{};
    REQUIRE(::pipe(ends.data()) == 0);
    const pid_t child = ::fork();
    if (child == 0) {
        std::string all;
        if (refuse_openat2(error)) {
            for (const std::string& name : names) {
                all += came(files_beside(mesh), name) + "\n";
            }
            // Nothing stays open but what was.
            all += std::to_string(std::distance(fs::directory_iterator("/proc/self/fd"), fs::directory_iterator()));
        }
        ::_exit(::write(ends[1], all.data(), all.size()) == static_cast<ssize_t>(all.size()) ? 0 : 1);
    }
    ::close(ends[1]);
    std::string got;
    std::array<char, 4096> piece{};
    for (ssize_t size = 0; (size = ::read(ends[0], piece.data(), piece.size())) > 0;) {
        got.append(piece.data(), static_cast<std::size_t>(size));
    }
    ::close(ends[0]);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    REQUIRE(status == 0);
    return got;
}

} // namespace

TEST_CASE("files beside a mesh: the same rule where the system cannot keep a path below a folder by itself") {
    const Folder folder;
    const Folder elsewhere;
    elsewhere.write("secret", "secret");
    fs::create_directories(folder.path() / "sub/deep");
    folder.write("near", "near");
    folder.write("sub/own", "own");
    folder.write("sub/deep/low", "low");
    fs::create_symlink(elsewhere.path() / "secret", folder.path() / "sub/away");
    fs::create_symlink(elsewhere.path(), folder.path() / "sub/door");
    fs::create_symlink("../../near", folder.path() / "sub/deep/up");
    fs::create_symlink("deep/low", folder.path() / "sub/down");
    fs::create_symlink("round", folder.path() / "sub/round");
    const std::string rule = "a mesh file may name files in its own folder and below";
    const std::string away = "it is a link that leads elsewhere; " + rule;
    const std::string link = "it is a link that cannot be followed; " + rule;
    struct Row {
        std::string name, with, without;
    };
    const std::vector<Row> rows{
        {"own", "[own]", "[own]"},
        {"deep/low", "[low]", "[low]"},
        {"./deep/./low", "[low]", "[low]"},
        {"nowhere", "no such file", "no such file"},
        {"nowhere/low", "no such file", "no such file"},
        {"own/low", "no such file", "no such file"},
        {"deep", "is a folder, not a mesh file", "is a folder, not a mesh file"},
        {"", rule, rule},
        {"../near", rule, rule},
        {"deep/../../near", rule, rule},
        {(elsewhere.path() / "secret").string(), rule, rule},
        {std::string("own\0x", 5), rule, rule},
        {"away", away, link},
        {"door/secret", away, link},
        {"deep/up", away, link},
        {"round", link, link},
        {"down", "[low]", link}, // it stays within, which is not looked at then
    };
    const fs::path mesh = folder.path() / "sub/w.obj";
    std::vector<std::string> names;
    std::string without;
    for (const Row& row : rows) {
        names.push_back(row.name);
        without += row.without + "\n";
        CAPTURE(row.name);
        CHECK(came(files_beside(mesh), row.name) == row.with);
    }
    const auto open_now = std::distance(fs::directory_iterator("/proc/self/fd"), fs::directory_iterator());
    for (const int error : {ENOSYS, EPERM, E2BIG}) {
        const std::string got = answers_without(error, mesh, names);
        if (got.empty()) {
            MESSAGE("left out: system calls cannot be filtered here");
            return;
        }
        CAPTURE(error);
        const std::size_t last = got.rfind('\n') + 1;
        CHECK(got.substr(0, last) == without);
        CHECK(got.substr(last) == std::to_string(open_now + 2)); // and the pipe
    }
}
