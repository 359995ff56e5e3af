// checks/load_in/load_path.hpp: what moves, along which line, and past what, when a mold is slid into the open press.
//
// Straight and level, from outside on the side that the press document names, to where the mold stands: the platen is
// at travel 0, out of level only as its jacks are nominally. A sandwich goes in on the platen: the lower half, the flat
// stack on the highest places of its face, the upper half on the stack. By halves the upper one goes in first, under the
// head that it hangs from; then the lower one on the platen; then the stack between them.
#pragma once

#include "scene/motion/assembly.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// A piece of what moves, where it comes to stand.
struct LoadPiece {
    std::string name; // as in Assembly; "ply stack"
    SharedMesh mesh;
    Pose seated;
    std::vector<std::size_t> slides_on; // bodies of the assembly that it touches by design
};

/// What goes in at once: a sandwich, a half, the stack.
struct LoadStep {
    std::string name; // "Dune deck with its flat stack", "Dune deck, upper half"
    std::vector<LoadPiece> pieces;
    std::vector<std::size_t> in_place; // mold halves of the assembly that are in their place already
};

struct LoadPath {
    PressSide from = PressSide::front;
    Vec3 along{0.0};             // unit, from outside to the seat
    double distance_mm = 0;      // from clear of everything to the seat
    std::vector<LoadStep> steps; // in order
};

[[nodiscard]] const char* name_of(PressSide side); // "front", "back", "left", "right"

/// Needs: a set-up with everything loaded, and its assembly.   Threads: pure, any.
[[nodiscard]] LoadPath load_path(const Setup& setup, const Assembly& assembly, PressSide from);

/// The flat stack as a block: as large as the deck, where it comes to lie on the lower half. Null without plies.
[[nodiscard]] SharedMesh flat_stack_mesh(const Setup& setup, const Assembly& assembly);

} // namespace evenclose
