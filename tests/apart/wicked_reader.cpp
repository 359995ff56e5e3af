#include "tests/apart/wicked_reader.hpp"

#include "scene/mesh/apart/channel.hpp"
#include "scene/mesh/apart/parcel.hpp"
#include "scene/mesh/formats/read_mesh.hpp"

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/ptrace.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdlib>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

namespace evenclose::test {
namespace {

volatile int* nowhere = nullptr;
volatile bool forever = true;
volatile std::size_t deep = 0;

// NOLINTNEXTLINE(misc-no-recursion): that is its purpose
std::size_t recurse(std::size_t depth) {
    std::array<volatile char, 4096> room{};
    room[depth % room.size()] = 1;
    deep = deep + 1;
    return forever ? recurse(depth + 1) + static_cast<std::size_t>(room[0]) : 0;
}

/// The socket to the program, whatever its number.
int the_channel() {
    for (int number = 3; number < 16; ++number) {
        struct stat about {};
        if (::syscall(SYS_fstat, number, &about) == 0 && S_ISSOCK(about.st_mode)) {
            return number;
        }
    }
    return -1;
}

RawMesh triangle() {
    RawMesh raw;
    raw.mesh.vertices_mm = {{0, 0, 0}, {9, 0, 0}, {0, 9, 0}};
    raw.mesh.triangles = {{0, 1, 2}};
    raw.corners_read = 3;
    return raw;
}

RawResult try_the_system() {
    if (::prctl(PR_GET_SECCOMP, 0, 0, 0, 0) == 0) {
        return NotRead{"no filter here"};
    }
    std::string went;
    const auto tried = [&went](const char* what, bool did) { went += did ? std::string(" ") + what : ""; };
    tried("open", ::open("/etc/hostname", O_RDONLY) >= 0);
    tried("create", ::open("/tmp/evenclose-wicked", O_WRONLY | O_CREAT, 0600) >= 0);
    tried("stat", ::access("/etc", F_OK) == 0);
    tried("unlink", ::unlink("/tmp/evenclose-wicked-too") == 0 || errno == ENOENT);
    tried("socket", ::socket(AF_INET, SOCK_STREAM, 0) >= 0);
    tried("unix", ::socket(AF_UNIX, SOCK_STREAM, 0) >= 0);
    const pid_t forked = ::fork();
    if (forked == 0) {
        ::_exit(0);
    }
    tried("fork", forked > 0);
    std::array<char*, 1> none{nullptr};
    tried("exec", ::execve("/bin/true", none.data(), none.data()) == 0 || errno == ENOENT);
    tried("kill", ::kill(::getppid(), 0) == 0);
    tried("ptrace", ::ptrace(PTRACE_TRACEME, 0, nullptr, nullptr) == 0);
    const rlimit more{RLIM_INFINITY, RLIM_INFINITY};
    tried("limits", ::setrlimit(RLIMIT_DATA, &more) == 0);
    tried("code",
          ::mmap(nullptr, 4096, PROT_READ | PROT_WRITE | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0) != MAP_FAILED);
    return NotRead{"went:" + (went.empty() ? std::string(" nothing") : went)};
}

RawResult ask_beside(const FilesBeside& beside, std::istream& names) {
    std::string came;
    for (std::string name; names >> name;) {
        auto opened = beside(name);
        if (const auto* file = std::get_if<OpenFile>(&opened)) {
            const auto text = whole(*file);
            came += "[" + (text ? std::string(text->view()) : "cut") + "]";
        } else {
            came += "(" + std::get<std::string>(opened) + ")";
        }
    }
    return NotRead{came};
}

RawResult misbehave(const std::string& word, std::istream& rest, const OpenFile& file, MeshFormat format,
                    const FilesBeside& beside) {
    if (word == "crash") {
        *nowhere = 1;
    } else if (word == "abort") {
        std::abort();
    } else if (word == "recurse") {
        static_cast<void>(recurse(0));
    } else if (word == "leave") {
        ::_exit(0);
    } else if (word == "killed") {
        ::syscall(SYS_tgkill, ::getpid(), ::gettid(), SIGKILL);
        *nowhere = 1; // where it may not signal itself
    } else if (word == "spin") {
        while (forever) {
            deep = deep + 1;
        }
    } else if (word == "sleep") {
        while (forever) {
            std::this_thread::sleep_for(std::chrono::seconds(1));
        }
    } else if (word == "bloat") {
        std::vector<std::vector<char>> all;
        while (forever) {
            all.emplace_back(1U << 20U, 'x');
        }
    } else if (word == "swell") { // as a library in C does, which takes no notice
        while (forever) {
            auto* more = static_cast<volatile char*>(std::malloc(1U << 20U));
            *more = 1;
        }
    } else if (word == "many") {
        RawMesh raw = triangle();
        raw.mesh.triangles.assign(2'000'000, {0, 1, 2});
        return raw;
    } else if (word == "threads") {
        RawMesh raw = triangle();
        std::vector<std::thread> some;
        for (std::size_t i = 0; i < 3; ++i) {
            some.emplace_back([&raw, i] { raw.mesh.vertices_mm[i].z = 7; });
        }
        for (std::thread& one : some) {
            one.join();
        }
        return raw;
    } else if (word == "shrunk") {
        while (static_cast<std::size_t>(::lseek(file.descriptor(), 0, SEEK_END)) == file.size()) {
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        }
        return read_mesh(file, format, beside);
    } else if (word == "wait") {
        for (char first = '#'; first == '#';) {
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
            static_cast<void>(file.read(0, &first, 1));
        }
        return triangle();
    } else if (word == "system") {
        return try_the_system();
    } else if (word == "beside") {
        return ask_beside(beside, rest);
    } else if (word == "forge") {
        const Handle channel(the_channel());
        Message lie;
        lie.kind = Message::Kind::ended;
        lie.number = SIGSEGV;
        send(channel, lie);
        lie.kind = Message::Kind::cannot_begin;
        send(channel, lie);
        Message answer;
        answer.kind = Message::Kind::answer;
        const Handle parcel = lay_down(triangle());
        send(channel, answer, {parcel.number()});
        ::_exit(0);
    } else if (word == "no_answer") {
        const Handle channel(the_channel());
        Message answer;
        answer.kind = Message::Kind::answer;
        send(channel, answer);
        ::_exit(0);
    } else if (word == "other_memory") {
        const Handle channel(the_channel());
        const Handle memory(::memfd_create("mesh", MFD_CLOEXEC | MFD_ALLOW_SEALING));
        if (::ftruncate(memory.number(), 4096) != 0) {
            ::_exit(1);
        }
        Message answer;
        answer.kind = Message::Kind::answer;
        send(channel, answer, {memory.number()});
        ::_exit(0);
    }
    return NotRead{"does not know how to " + word};
}

} // namespace

RawResult wicked_reader(const OpenFile& file, MeshFormat format, const FilesBeside& beside) {
    std::array<char, 200> head{};
    const std::size_t got = file.read(0, head.data(), head.size());
    const std::string text(head.data(), got);
    std::istringstream line(text.substr(0, text.find('\n')));
    std::string hash, doing, word;
    line >> hash >> doing >> word;
    return hash == "#" && doing == "do" ? misbehave(word, line, file, format, beside) : read_mesh(file, format, beside);
}

} // namespace evenclose::test
