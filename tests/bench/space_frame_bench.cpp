// tests/bench/space_frame_bench.cpp: how long a frame of many members takes to solve: assembled, factored, forces told.
//
//   space_frame_bench [members]       default: 2000
#include "checks/frame/solve.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cstdlib>

using namespace evenclose;

int main(int argc, char** argv) {
    const int members = argc > 1 ? std::atoi(argv[1]) : 2000;
    // A tower of storeys: four posts, a ring and a diagonal in each, nine members.
    SpaceFrame frame;
    const BeamStiffness stiffness{4e8, 6e11, 3e11, 2e11, 1e8, 1e8};
    const auto corner = [](int storey, int side) { return static_cast<std::size_t>(4 * storey + side); };
    const Vec3 plan[] = {{0, 0, 0}, {1000, 0, 0}, {1000, 1000, 0}, {0, 1000, 0}};
    const int storeys = (members + 8) / 9;
    for (int s = 0; s <= storeys; ++s) {
        for (int side = 0; side < 4; ++side) {
            frame.nodes.push_back({plan[side] + Vec3{0, 0, 500.0 * s}, s == 0 ? kClamped : kFree});
        }
    }
    const auto add = [&](std::size_t a, std::size_t b) {
        FrameBeam beam;
        beam.a = a;
        beam.b = b;
        beam.y_axis = {0.3, 0.5, 0.8};
        beam.stiffness = stiffness;
        frame.beams.push_back(beam);
    };
    for (int s = 0; s < storeys; ++s) {
        for (int side = 0; side < 4; ++side) {
            add(corner(s, side), corner(s + 1, side));
            add(corner(s + 1, side), corner(s + 1, (side + 1) % 4));
        }
        add(corner(s, 0), corner(s + 1, 1));
    }
    LoadCase load;
    load.actions = {{corner(storeys, 2), {{1000, 500, -2000}, Vec3{0.0}}}};
    const auto from = std::chrono::steady_clock::now();
    const FrameSolution solution = solve(frame, {load});
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
    fmt::print("{} members, {} nodes: {:.3f} s, {}\n", frame.beams.size(), frame.nodes.size(), seconds,
               solution.stable() ? "stable" : "a mechanism");
    return solution.stable() ? 0 : 1;
}
