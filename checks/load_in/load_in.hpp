// checks/load_in/load_in.hpp: `load-in`: does the mold slide into the open press past posts, jacks, guides and head?
//
// The clearance engine certifies the whole way. It knows one motion, along Z; so all of it, press and mold, is turned
// until the way in lies along Z, and what is measured is turned back.
#pragma once

#include "checks/clearance/sweep.hpp"
#include "checks/finding.hpp"
#include "checks/load_in/load_path.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// One piece past one body, over the whole way. The sweep's travel counts the way gone from outside; its points are in
/// the world, where the piece is at that place of its way.
struct LoadPassage {
    std::size_t step = 0, piece = 0; // into LoadPath
    std::size_t past = 0;            // into Assembly::bodies
    Sweep sweep;
};

/// What is in the way, found by trying shifts of everything that moves at once.
struct Obstruction {
    std::size_t step = 0;
    std::size_t by = 0;                // the body that stands in the way
    std::optional<std::size_t> and_by; // the one on the other side, when no shift helps: it is too wide between both
    double missing_mm = 0;             // by how much it is too wide there, or too tall
    bool too_tall = false;
    Vec3 shift_mm{0.0}; // that frees the way wholly; 0: none does
    Vec3 at_mm{0.0};    // world
};

struct LoadInMeasure {
    LoadPath path;
    std::vector<LoadPassage> passages; // those nearer than the interest distance, and what was not checked; in order
    std::vector<Obstruction> obstructions;
    std::vector<PressSide> goes_from; // when it does not go: other sides from which it would
    bool cancelled = false;
};

/// Needs: a set-up with everything loaded and `load_from` in its press, and its assembly.
/// Threads: works on several pairs at once; the answer does not depend on how many.
[[nodiscard]] LoadInMeasure measure_load_in(const Setup& setup, const Assembly& assembly, Progress& progress);

/// A finding for each thing in the way; else one for each step: go where it passes everything with the running
/// clearance, marginal where it passes with less. Not checked without `load_from`.
[[nodiscard]] std::vector<Finding> check_load_in(const Setup& setup, const Assembly& assembly, Progress& progress);

} // namespace evenclose
