// checks/mesh/mesh_check.hpp: `mesh`: are the meshes closed, oriented, free of self-intersection, of a plausible size?
//
// Sound: go. Holes, flipped or crowded edges, an inside-out shell, a size no mold has: no-go, since what hangs on the
// solid (inside or outside, volume, seat) cannot be trusted. Self-intersection, stray shells, many flawed triangles:
// marginal; distances stay right, volumes do not. A few flat or doubled triangles are only mentioned.
#pragma once

#include "checks/finding.hpp"
#include "checks/progress.hpp"
#include "scene/mesh/soundness.hpp"
#include "scene/motion/assembly.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct MeshMeasure {
    std::string body;
    Soundness sound;
    Flaw self_intersections;
    std::size_t triangles = 0;
};

/// Needs: corners in range, finite. When cancelled, self-intersections may be missing: do not judge it.
[[nodiscard]] MeshMeasure measure_mesh(const std::string& body, const TriangleMesh& mesh, Progress& progress);

/// `placement` brings the places into the world. Several findings, or one that says it is sound.
[[nodiscard]] std::vector<Finding> judge(const MeshMeasure& measure, const Pose& placement);

/// Every body that was read from a mesh file, each mesh once. What this program made itself is sound by construction.
[[nodiscard]] std::vector<Finding> check_meshes(const Setup& setup, const Assembly& assembly, Progress& progress);

} // namespace evenclose
