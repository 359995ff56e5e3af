// tests/bench/fit_bench.cpp: `fit` over many molds on one thread and on two, as the program does it.
//
//   fit_bench [MOLDS]      default 200: every tenth the demo's crescent with mesh files of its own, the others plain blocks
//
// One line: name two_threads_s one_thread_s ratio; in turns, the least of two. Reading the files counts.
#include "checks/fit/fit.hpp"
#include "scene/documents/documents.hpp"
#include "tests/places.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <vector>

using namespace evenclose;
namespace fs = std::filesystem;

int main(int count, char** words) {
    const int molds = count > 1 ? std::atoi(words[1]) : 200;
    const fs::path demo = fs::path(test::build_folder()) / "demo";
    const Loaded<Setup> like = read_setup(demo / "crescent.set-up.json");
    if (!like.value) {
        fmt::print(stderr, "build the program first: it makes the demo\n");
        return 1;
    }
    const fs::path folder = fs::temp_directory_path() / fmt::format("evenclose-fit-bench-{}", std::rand());
    fs::remove_all(folder); // of a run that was broken off
    std::vector<fs::path> files;
    for (int i = 0; i < molds; ++i) {
        const fs::path own = folder / fmt::format("{:03}", i);
        fs::create_directories(own / "meshes");
        files.push_back(own / "crescent.mold.json");
        if (i % 10 != 0) {
            std::ofstream(files.back()) << fmt::format(
                R"({{ "evenclose": "mold", "version": 1, "name": "Board {0}", "lower": {{ "block": [{1}, 240, 50] }},
  "upper": {{ "block": [{1}, 240, 50] }}, "stack": {{ "plies": [ {{ "thickness": 1.5, "species": "birch", "grain": "along",
  "count": 7 }} ], "glue_line": 0.1 }} }})",
                i, 500 + i);
            continue;
        }
        for (const char* half : {"meshes/crescent-lower.stl", "meshes/crescent-upper.stl"}) {
            fs::copy_file(demo / half, own / half);
        }
        fs::copy_file(demo / "crescent.mold.json", files.back());
    }
    double best[3] = {0, 1e300, 1e300};
    for (int turn = 0; turn < 2; ++turn) {
        for (const int jobs : {2, 1}) {
            Progress progress;
            const auto start = std::chrono::steady_clock::now();
            const std::vector<Fit> fits = fit_all(*like.value, files, jobs, progress);
            const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
            best[jobs] = std::min(best[jobs], took.count());
            const bool all = std::all_of(fits.begin(), fits.end(), [](const Fit& fit) { return fit.faults.empty(); });
            if (!all) {
                fmt::print(stderr, "a mold cannot be read\n");
                return 1;
            }
        }
    }
    fs::remove_all(folder);
    fmt::print("fit_{}_molds_two_threads {:.3f} {:.3f} {:.2f}\n", molds, best[2], best[1], best[1] / best[2]);
}
