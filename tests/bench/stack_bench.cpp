// tests/bench/stack_bench.cpp: what openings over one another cost: the full check of twelve against that of one, the same
// mold in each.
//
//   stack_bench [TRIANGLES] [OPENINGS]      default 400 000 a half, 12 openings
//
// Each runs in a process of its own, so that its peak of memory can be told. Two lines as of tests/bench.sh: seconds of
// twelve, seconds of one, ratio; megabytes of twelve, of one, ratio. Ends with 1 when the ratio of times is above the
// number of openings, or memory grows by a tenth.
#include "checks/check_list.hpp"
#include "tests/checks/cavity/field_half.hpp"
#include "tests/checks/stack/stacked_blocks.hpp"

#include <fmt/format.h>
#include <tbb/global_control.h>

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <cstdlib>

using namespace evenclose;

namespace {

struct Cost {
    double seconds = 0, megabytes = 0;
};

test::StackedBlocks stacked(double triangles, std::size_t openings) {
    const int along = static_cast<int>(std::sqrt(triangles / 2 * 600 / 180)); // nearly all of it is the face
    const int across = static_cast<int>(triangles / 2 / along);
    test::StackedBlocks blocks(openings);
    blocks.press.load_from = PressSide::front;
    blocks.mold.lower.mesh = std::make_shared<const TriangleMesh>(test::deck_lower(along, across));
    blocks.mold.upper.mesh = std::make_shared<const TriangleMesh>(test::deck_upper(10, along - 7, across + 5));
    blocks.mold.lower.shape = blocks.mold.upper.shape = MeshHalf{};
    blocks.mold.deck_size_mm.reset();
    blocks.mold.shut_height_mm.reset();
    const double shut = blocks.mold.closed_shut_height_mm();
    const auto n = static_cast<double>(openings);
    blocks.press.head_underside_z_mm = 340 + n * (shut + 90) + (n - 1) * 25;
    for (Jack& jack : blocks.press.jacks) {
        jack.stroke_mm = n * 90 + 30;
    }
    const auto mold = std::make_shared<const Mold>(blocks.mold);
    for (Opening& opening : blocks.setup.openings) {
        opening.mold = mold;
    }
    blocks.made_anew();
    return blocks;
}

Cost cost_of(double triangles, std::size_t openings) {
    int pipes[2];
    if (pipe(pipes) != 0) {
        std::abort();
    }
    const pid_t child = fork();
    if (child == 0) {
        const tbb::global_control two(tbb::global_control::max_allowed_parallelism, 2);
        const test::StackedBlocks blocks = stacked(triangles, openings);
        const Assembly assembly = assemble(blocks.setup);
        Progress progress;
        const auto start = std::chrono::steady_clock::now();
        const CheckResults results = run_checks(blocks.setup, assembly, {}, progress);
        const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        const bool told = !results.findings.empty() && write(pipes[1], &seconds, sizeof seconds) == sizeof seconds;
        _exit(told ? 0 : 1);
    }
    Cost cost;
    int status = 0;
    rusage used{};
    const bool read_it = read(pipes[0], &cost.seconds, sizeof cost.seconds) == sizeof cost.seconds;
    wait4(child, &status, 0, &used);
    if (!read_it || status != 0) {
        fmt::print(stderr, "the check of {} openings broke off\n", openings);
        std::exit(1);
    }
    cost.megabytes = static_cast<double>(used.ru_maxrss) / 1024;
    close(pipes[0]);
    close(pipes[1]);
    return cost;
}

} // namespace

int main(int count, char** words) {
    const double triangles = count > 1 ? std::atof(words[1]) : 4e5;
    const auto openings = static_cast<std::size_t>(count > 2 ? std::atoi(words[2]) : 12);
    const Cost one = cost_of(triangles, 1);
    const Cost many = cost_of(triangles, openings);
    fmt::print("stack_of_{}_seconds {:.3f} {:.3f} {:.1f}\n", openings, many.seconds, one.seconds,
               many.seconds / one.seconds);
    fmt::print("stack_of_{}_megabytes {:.0f} {:.0f} {:.3f}\n", openings, many.megabytes, one.megabytes,
               many.megabytes / one.megabytes);
    return many.seconds <= static_cast<double>(openings) * one.seconds && many.megabytes < 1.1 * one.megabytes ? 0 : 1;
}
