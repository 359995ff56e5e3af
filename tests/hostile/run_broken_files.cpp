// tests/hostile/run_broken_files.cpp: lets `mesh` and `check` loose on broken files and tells how each ended.
//
//   broken_files FOLDER [COUNT [FROM]]     COUNT files (default 400) from number FROM on, made and tried in FOLDER
//
// Wanted: no crash of the program itself, nothing beyond 10 s of computing, no more than 1 GiB beyond the input. Ends with 1
// where that is not so and keeps those files in FOLDER. Each is tried by a process forked for it, as if the program had been
// started anew, less the time to start it.
#include "scene/mesh/apart/apart.hpp"
#include "tests/hostile/broken_files.hpp"
#include "tests/peak_memory.hpp"
#include "tests/places.hpp"
#include "viewer/cli/run.hpp"

#include <fmt/format.h>

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

namespace fs = std::filesystem;

constexpr double kLongest_s = 10;
constexpr double kMost_MB = 1074; // 1 GiB
constexpr unsigned kGivenUp_s = 120;
// On a machine that others keep busy a process may wait longer than that for its turn.
constexpr unsigned kGivenUpAgain_s = 600;

// A press that closes on blocks 60 mm high; what lies in it is broken.
constexpr const char* kPress = R"({ "evenclose": "press", "version": 1, "name": "Box on a post",
  "members": [ { "name": "post", "from": [400, 0, 0], "to": [400, 0, 700], "section": { "timber": [60, 60] }, "material": "pine" } ],
  "head": { "underside": 480, "size": [700, 300], "thickness": 40 },
  "platen": { "size": [700, 300], "thickness": 40 },
  "jacks": [
    { "name": "left jack", "foot": [-250, 0, 0], "closed_height": 200, "stroke": 180, "lead": 4, "rated_load": "20 kN",
      "body_diameter": 80, "screw_diameter": 30, "head_diameter": 60, "head_thickness": 10 },
    { "name": "right jack", "foot": [250, 0, 0], "closed_height": 200, "stroke": 180, "lead": 4, "rated_load": "20 kN",
      "body_diameter": 80, "screw_diameter": 30, "head_diameter": 60, "head_thickness": 10 } ] })";
constexpr const char* kSetup = R"({ "evenclose": "set-up", "version": 1, "name": "Broken", "press": "x.press.json",
  "openings": [ { "mold": "x.mold.json", "at": [0, 0] } ], "closing_force": "20 kN" })";

std::string mold(const std::string& mesh, bool both) {
    return fmt::format(R"({{ "evenclose": "mold", "version": 1, "name": "Broken",
  "lower": {{ "mesh": "{0}", "unit": "mm" }}, "upper": {1},
  "stack": {{ "plies": [ {{ "thickness": 1.5, "species": "birch", "grain": "along", "count": 7 }} ], "glue_line": 0.1 }},
  "print": {{ "build_volume": [250, 210, 220], "fill": "20 %", "wall": 1.2 }} }})",
                       mesh,
                       both ? fmt::format(R"({{ "mesh": "{}", "unit": "mm", "flip": true }})", mesh)
                            : R"({ "block": [200, 100, 60] })");
}

void write(const fs::path& file, std::string_view bytes) {
    std::ofstream(file, std::ios::binary | std::ios::trunc)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

struct Ended {
    std::string how;                           // a word for the table
    double cpu_s = 0, wall_s = 0, peak_MB = 0; // cpu_s: without that of the reader, which has a limit of its own
    std::string said;
};

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')).substr(0, 300); }

/// What a new process makes of the words.
Ended tried_once(const std::vector<std::string>& words, unsigned given_up_s) {
    std::array<int, 2> ends{};
    if (::pipe(ends.data()) != 0) {
        std::abort();
    }
    const pid_t child = ::fork();
    if (child == 0) {
        ::close(ends[0]);
        ::alarm(given_up_s);
        const double before = peak_MB();
        std::ostringstream out, err;
        start_reading_apart();
        const auto began = std::chrono::steady_clock::now();
        const int code = run(words, out, err);
        const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - began;
        const std::string told = fmt::format("{} {} {} {}", code, peak_MB() - before, wall.count(),
                                             first_line(code == 2 ? err.str() + out.str() : out.str()));
        static_cast<void>(::write(ends[1], told.data(), told.size()) > 0);
        ::_exit(0);
    }
    ::close(ends[1]);
    std::string told;
    std::array<char, 1024> piece{};
    for (ssize_t got = 0; (got = ::read(ends[0], piece.data(), piece.size())) > 0;) {
        told.append(piece.data(), static_cast<std::size_t>(got));
    }
    ::close(ends[0]);
    int status = 0;
    rusage used{};
    ::wait4(child, &status, 0, &used);
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    };
    Ended ended;
    ended.cpu_s = seconds(used.ru_utime) + seconds(used.ru_stime);
    if (WIFSIGNALED(status)) {
        ended.how = WTERMSIG(status) == SIGALRM ? "HANGS" : fmt::format("CRASHES ({})", WTERMSIG(status));
        return ended;
    }
    int code = -1;
    std::istringstream words_of(told);
    words_of >> code >> ended.peak_MB >> ended.wall_s;
    std::getline(words_of, ended.said);
    if (ended.cpu_s > kLongest_s) {
        ended.how = "HANGS";
    } else if (ended.peak_MB > kMost_MB) {
        ended.how = "BLOATS";
    } else if (code == 0 || code == 1) {
        ended.how = "read";
    } else if (code == 2) {
        const auto has = [&](const char* what) { return ended.said.find(what) != std::string::npos; };
        ended.how = has("made its reader")                                      ? "reader crashed"
                    : has("reading was stopped") || has("makes a mesh of more") ? "reader stopped"
                                                                                : "refused";
    } else {
        ended.how = fmt::format("ENDS WITH {}", code);
    }
    return ended;
}

/// One that was given up without having computed for long is tried once more: a machine that is busy is no hang.
Ended tried(const std::vector<std::string>& words) {
    Ended ended = tried_once(words, kGivenUp_s);
    return ended.how == "HANGS" && ended.cpu_s <= kLongest_s ? tried_once(words, kGivenUpAgain_s) : ended;
}

bool bad(const Ended& ended) { return ended.how[0] >= 'A' && ended.how[0] <= 'Z'; }

} // namespace

int main(int argc, char** argv) {
    if (argc < 2) {
        fmt::print(stderr, "broken_files FOLDER [COUNT [FROM]]\n");
        return 64;
    }
    const fs::path folder = argv[1];
    const std::size_t count = argc > 2 ? std::strtoul(argv[2], nullptr, 10) : 400;
    const std::size_t from = argc > 3 ? std::strtoul(argv[3], nullptr, 10) : 0;
    fs::create_directories(folder);
    const std::string open_data = build_folder() + "/../open-data";
    const BrokenFiles files(demo("meshes"),
                            {"/usr/share/assimp/models/STL", "/usr/share/assimp/models/OBJ",
                             "/usr/share/assimp/models/PLY", "/usr/share/assimp/models/OFF",
                             "/usr/share/assimp/models/3MF", "/usr/share/assimp/models/glTF",
                             "/usr/share/assimp/models/glTF2", "/usr/share/assimp/models/invalid", open_data});
    write(folder / "x.press.json", kPress);
    write(folder / "x.set-up.json", kSetup);
    // A share of each kind, spread over all there are, if not all are asked for.
    const std::size_t fixed = files.fixed();
    const std::size_t of_fixed = count >= 2 * fixed ? fixed : count / 2;
    std::map<std::string, std::map<std::string, int>> table;
    double slowest_s = 0, longest_s = 0, largest_MB = 0;
    int wrong = 0;
    for (std::size_t i = from; i < from + count; ++i) {
        const std::size_t number = i < of_fixed ? i * fixed / of_fixed : fixed + i - of_fixed;
        const BrokenFile broken = files.make(number);
        const fs::path file =
            broken.original.empty() ? folder / fmt::format("{}-{}", number, broken.name) : broken.original;
        if (broken.original.empty()) {
            write(file, broken.bytes);
        }
        bool keep = false;
        const auto count_in = [&](const char* what, const Ended& ended) {
            ++table[fmt::format("{}, {}", broken.kind, what)][ended.how];
            slowest_s = std::max(slowest_s, ended.cpu_s);
            longest_s = std::max(longest_s, ended.wall_s);
            largest_MB = std::max(largest_MB, ended.peak_MB);
            if (bad(ended) || ended.how.starts_with("reader")) {
                fmt::print("{} {} {}: {:.1f} s, {:.0f} MB: {}\n", ended.how, what, file.string(), ended.cpu_s,
                           ended.peak_MB, ended.said);
                std::fflush(stdout);
                wrong += bad(ended) ? 1 : 0;
                keep = keep || bad(ended);
            }
        };
        const Ended mesh = tried({"mesh", file.string()});
        count_in("mesh", mesh);
        if (mesh.how != "refused") {
            write(folder / "x.mold.json", mold(fs::absolute(file).string(), number % 2 == 0));
            count_in("check", tried({"check", (folder / "x.set-up.json").string(), "--jobs", "1"}));
        }
        if (broken.original.empty() && !keep) {
            fs::remove(file);
        }
    }
    for (const auto& [kind, outcomes] : table) {
        std::string row = fmt::format("{:<20}", kind);
        for (const auto& [how, times] : outcomes) {
            row += fmt::format("  {} {}", how, times);
        }
        fmt::print("{}\n", row);
    }
    fmt::print("{} files, slowest {:.1f} s of computing, {:.1f} s by the clock with its reader, largest {:.0f} MB\n",
               count, slowest_s, longest_s, largest_MB);
    return wrong == 0 ? 0 : 1;
}
