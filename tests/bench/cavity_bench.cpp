// tests/bench/cavity_bench.cpp: the gap along the stroke and the nearest points, ours and Embree's in one run.
//
//   cavity_bench [TRIANGLES] [SAMPLES]      default 1 000 000 a face, 1 000 000 samples
//
// Along the stroke both faces are rasterised, which needs no tree; the peer builds a tree a face and shoots a ray at
// each. One line as of tests/bench.sh: name ours_s peer_s ratio. Whatever is needed before the first sample counts; in
// turns (ours, peer, ours, peer ...), the least of five.
#include "checks/cavity/face_tree.hpp"
#include "checks/cavity/height_map.hpp"
#include "tests/checks/cavity/field_half.hpp"

#include <fmt/format.h>
#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <vector>

using namespace evenclose;

namespace {

template <class Do> double seconds(Do&& act) {
    const auto start = std::chrono::steady_clock::now();
    act();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

} // namespace

int main(int count, char** words) {
    const double triangles = count > 1 ? std::atof(words[1]) : 1e6;
    const double samples = count > 2 ? std::atof(words[2]) : 1e6;
    const tbb::global_control two(tbb::global_control::max_allowed_parallelism, 2);
    const int along = static_cast<int>(std::sqrt(triangles / 4 * 600 / 180)); // the face is half of a half's triangles
    const int across = static_cast<int>(triangles / 4 / along);
    const TriangleMesh lower = test::deck_lower(along, across);
    const TriangleMesh upper = test::deck_upper(10, along - 7, across + 5);
    const PlanGrid grid = grid_over({-299, -89}, {299, 89}, std::sqrt(598.0 * 178.0 / samples));
    fmt::print(stderr, "{} + {} triangles, {} samples, 2 threads\n", lower.triangles.size(), upper.triangles.size(),
               grid.size());

    double ours = 1e300;
    double peers = 1e300;
    double worst = 0;
    std::vector<float> gaps(grid.size());
    std::vector<float> peer_gaps(grid.size());
    for (int turn = 0; turn < 5; ++turn) {
        ours = std::min(ours, seconds([&] {
                            const HeightMap below = height_map(lower, grid, SeenFrom::above);
                            const HeightMap above = height_map(upper, grid, SeenFrom::below);
                            tbb::parallel_for(tbb::blocked_range<std::size_t>(0, gaps.size(), 1 << 14),
                                              [&](const auto& range) {
                                                  for (std::size_t i = range.begin(); i < range.end(); ++i) {
                                                      gaps[i] = static_cast<float>(above.z_mm(i) - below.z_mm(i));
                                                  }
                                              });
                        }));
        peers = std::min(
            peers, seconds([&] {
                const FaceTree below(lower);
                const FaceTree above(upper);
                tbb::parallel_for(tbb::blocked_range<std::size_t>(0, gaps.size(), 1024), [&](const auto& range) {
                    for (std::size_t i = range.begin(); i < range.end(); ++i) {
                        const Vec2 at = grid.at_mm(i);
                        const auto down = below.first_along({at, 500}, {0, 0, -1}, 1000);
                        const auto up = above.first_along({at, -500}, {0, 0, 1}, 1000);
                        peer_gaps[i] = down && up ? static_cast<float>(up->along_mm + down->along_mm - 1000) : -1.0F;
                    }
                });
            }));
    }
    for (std::size_t i = 0; i < gaps.size(); ++i) {
        worst = std::max(worst, std::abs(static_cast<double>(gaps[i]) - static_cast<double>(peer_gaps[i])));
    }
    fmt::print(stderr, "the two maps differ by {:.2g} mm at most\n", worst);
    fmt::print("cavity_along_stroke {:.3f} {:.3f} {:.1f}\n", ours, peers, peers / ours);

    const FaceTree tree(upper);
    double point = 1e300;
    for (int turn = 0; turn < 3; ++turn) {
        point =
            std::min(point, seconds([&] {
                         tbb::parallel_for(tbb::blocked_range<std::size_t>(0, 100'000, 256), [&](const auto& range) {
                             for (std::size_t i = range.begin(); i < range.end(); ++i) {
                                 const Vec2 at = grid.at_mm(i * (grid.size() / 100'000));
                                 (void)tree.nearest({at, test::deck_z(at.x, at.y)}, 60);
                             }
                         });
                     }));
    }
    fmt::print(stderr, "nearest points: Embree's query, which the program uses: {:.2f} us each\n",
               point / 100'000 * 1e6);
    return worst < 0.01 ? 0 : 1;
}
