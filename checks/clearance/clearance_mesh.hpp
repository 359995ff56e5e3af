// checks/clearance/clearance_mesh.hpp: a mesh with what the engine prepared for it.
#pragma once

#include "checks/clearance/containment.hpp"
#include "checks/clearance/hierarchy.hpp"
#include "checks/clearance/sweep.hpp"

#include <cstdint>
#include <vector>

namespace evenclose {

class ClearanceMesh {
public:
    /// Needs: a mesh that require_sound_input lets pass.
    explicit ClearanceMesh(SharedMesh source);

    [[nodiscard]] const TriangleMesh& mesh() const { return *mesh_; }
    [[nodiscard]] const Box& bounds() const { return bounds_; }
    [[nodiscard]] const Hierarchy& hierarchy() const { return hierarchy_; }
    /// The outermost corners of each connected piece.
    [[nodiscard]] const std::vector<ShellEnds>& shells() const { return shells_; }
    [[nodiscard]] bool closed() const { return closed_; }
    [[nodiscard]] bool inside_out() const { return inside_out_; } // of a closed mesh
    [[nodiscard]] std::size_t bytes() const { return hierarchy_.bytes() + shells_.size() * sizeof(ShellEnds); }

private:
    SharedMesh mesh_;
    Box bounds_;
    std::vector<ShellEnds> shells_;
    Hierarchy hierarchy_;
    bool closed_ = false, inside_out_ = false;
};

} // namespace evenclose
